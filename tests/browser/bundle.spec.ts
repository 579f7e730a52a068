import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { expect, test } from "@playwright/test";

const client = join(import.meta.dirname, "../../dist/client");
const assets = join(client, "assets");
const textOf = (name: string) => readFileSync(join(assets, name), "utf8");
const packed = (names: Iterable<string>) => [...names].reduce((sum, name) => sum + gzipSync(textOf(name)).length, 0);

/** The scripts that a browser fetches before anything is asked for: those named in the page, and what they import at once. */
const loadedAtStart = (): ReadonlySet<string> => {
  const named = readFileSync(join(client, "index.html"), "utf8").matchAll(/assets\/([^"]+\.js)"/g);
  const found = new Set([...named].map(([, name = ""]) => name));
  for (const name of found)
    for (const [, imported = ""] of textOf(name).matchAll(/(?:from|import)\s*["'`]\.\/([^"'`]+\.js)["'`]/g))
      found.add(imported);
  return found;
};

test("the first page loads at most 60 kB of packed script, all screens together 90 kB, no schema library", () => {
  const scripts = readdirSync(assets).filter((name) => name.endsWith(".js"));
  const atStart = loadedAtStart();
  console.log(`packed script: ${packed(atStart)} bytes at start, ${packed(scripts)} in all`);
  expect(atStart.size).toBeGreaterThan(1);
  expect(scripts.length, "screens that come later are files of their own").toBeGreaterThan(atStart.size);
  expect(packed(atStart)).toBeLessThanOrEqual(60_000);
  expect(packed(scripts)).toBeLessThanOrEqual(90_000);
  for (const name of scripts) expect(textOf(name)).not.toMatch(/ZodError|safeParse/);
});
