/** npm run pictures: drives the built program on the demo and keeps pictures of its screens and sheets for the README. */
import { spawn } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Browser, chromium, type Page } from "@playwright/test";
import { standingBrowser } from "../support/browser.ts";

const into = join(import.meta.dirname, "../../sample-images/screens");
const data = mkdtempSync(join(tmpdir(), "leafledger-pictures-"));
const port = "4197";
const root = `http://localhost:${port}/d/brannochquay`;

const server = spawn(process.execPath, ["dist/server/cli/main.js", "serve", "--demo", "--data", data, "--port", port]);
await new Promise<void>((resolve, reject) => {
  server.stdout.on("data", (text) => String(text).includes("ready") && resolve());
  server.on("exit", () => reject(new Error("the server ended: build first with npm run build")));
});

const phone = { width: 390, height: 844 };
const laptop = { width: 1280, height: 900 };
const tall = { width: 1280, height: 1420 };

const open = async (browser: Browser, viewport: typeof phone, path: string): Promise<Page> => {
  const context = await browser.newContext({ viewport, deviceScaleFactor: viewport === phone ? 1.5 : 1 });
  const page = await context.newPage();
  await page.goto(`${root}${path}`);
  await page.waitForLoadState("networkidle", { timeout: 5000 }).catch(() => undefined);
  await page.waitForTimeout(1500);
  return page;
};

const browser = await chromium.launch({
  ...(standingBrowser() ? { executablePath: standingBrowser() as string } : {}),
  args: ["--no-sandbox", "--disable-gpu", "--disable-background-networking"],
});
mkdirSync(into, { recursive: true });
const keep = async (name: string, viewport: typeof phone, path: string) => {
  const page = await open(browser, viewport, path);
  await page.screenshot({ path: join(into, `${name}.jpg`), type: "jpeg", quality: 80 });
  await page.context().close();
};
await keep("delivery", tall, "");
await keep("delivery-phone", phone, "");
await keep("unwrap-phone", phone, "/unwrap");
await keep("leaf", tall, "/unwrap/W07?face=B");
await keep("leaf-phone", phone, "/unwrap/W05");
await keep("match", tall, "/match");
await keep("returns", laptop, "/returns");
await browser.close();
server.kill();
server.on("close", () => rmSync(data, { recursive: true, force: true }));
