import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { expect, test } from "@playwright/test";

const assets = join(import.meta.dirname, "../../dist/client/assets");

test("the script is at most 60 kB packed, and no schema library is in it", () => {
  const scripts = readdirSync(assets).filter((name) => name.endsWith(".js"));
  expect(scripts.length).toBeGreaterThan(0);
  const packed = scripts.reduce((sum, name) => sum + gzipSync(readFileSync(join(assets, name))).length, 0);
  expect(packed).toBeLessThanOrEqual(60_000);
  for (const name of scripts) expect(readFileSync(join(assets, name), "utf8")).not.toMatch(/ZodError|safeParse/);
});
