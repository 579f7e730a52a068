/** npm run pictures: drives the built program on the demo and keeps pictures of its screens and sheets for the README. */
import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { type Browser, chromium, type Page } from "@playwright/test";
import { standingBrowser } from "../support/browser.ts";
import { startDemo } from "../support/demo-server.ts";

const into = join(import.meta.dirname, "../../sample-images/screens");
const demo = await startDemo(4197);

const phone = { width: 390, height: 844 };
const laptop = { width: 1280, height: 900 };
const tall = { width: 1280, height: 1420 };

const open = async (browser: Browser, viewport: typeof phone, path: string): Promise<Page> => {
  const context = await browser.newContext({ viewport, deviceScaleFactor: viewport === phone ? 1.5 : 1 });
  const page = await context.newPage();
  await page.goto(`${demo.root}${path}`);
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
await demo.stop();
