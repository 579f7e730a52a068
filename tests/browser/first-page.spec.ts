import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { expect } from "@playwright/test";
import { test } from "./the-demo.ts";

const assets = join(import.meta.dirname, "../../dist/client/assets");

test("the script is at most 60 kB packed, and no schema library is in it", () => {
  const scripts = readdirSync(assets).filter((name) => name.endsWith(".js"));
  expect(scripts.length).toBeGreaterThan(0);
  const packed = scripts.reduce((sum, name) => sum + gzipSync(readFileSync(join(assets, name))).length, 0);
  expect(packed).toBeLessThanOrEqual(60_000);
  for (const name of scripts) expect(readFileSync(join(assets, name), "utf8")).not.toMatch(/ZodError|safeParse/);
});

/** The quickest of three tries: what else the machine does meanwhile is not the page's doing. Scripts are fetched anew each time. */
test("the delivery is on the screen within 2 s on a processor slowed four times", async ({ page, delivery }) => {
  const slowly = await page.context().newCDPSession(page);
  await slowly.send("Emulation.setCPUThrottlingRate", { rate: 4 });
  await slowly.send("Network.setCacheDisabled", { cacheDisabled: true });
  const tries: number[] = [];
  for (let one = 0; one < 3; one++) {
    await page.goto("about:blank");
    const started = Date.now();
    await page.goto(`/d/${delivery}`, { waitUntil: "commit" });
    await page.getByRole("heading", { name: "Count by line" }).waitFor();
    tries.push(Date.now() - started);
  }
  const took = Math.min(...tries);
  test.info().annotations.push({ type: "took", description: `${tries.join(", ")} ms` });
  expect(took).toBeLessThanOrEqual(2000);
});
