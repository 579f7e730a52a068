import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";

const root = join(import.meta.dirname, "../..");
const versionIn = (path: string): string => JSON.parse(readFileSync(join(root, path), "utf8")).version;
const lock = JSON.parse(readFileSync(join(root, "package-lock.json"), "utf8")).packages as Record<
  string,
  { version: string; integrity?: string; resolved?: string }
>;

const atLeast = (version: string, floor: string): boolean => {
  const [a, b] = [version, floor].map((one) => one.split(".").map(Number));
  const at = [0, 1, 2].find((place) => a?.[place] !== b?.[place]);
  return at === undefined || (a?.[at] ?? 0) > (b?.[at] ?? 0);
};

test.each([
  ["sharp", "0.35.5"],
  ["multer", "2.5.0"],
  ["express", "5.3.0"],
  ["body-parser", "2.3.0"],
  ["path-to-regexp", "8.4.2"],
  ["qs", "6.16.0"],
])("D20: %s is installed and locked at %s or later, everywhere it stands", (name, floor) => {
  expect(atLeast(versionIn(`node_modules/${name}/package.json`), floor)).toBe(true);
  const locked = Object.entries(lock).filter(([path]) => path.endsWith(`node_modules/${name}`));
  expect(locked.length).toBeGreaterThan(0);
  for (const [path, { version }] of locked) expect(atLeast(version, floor), `${path} ${version}`).toBe(true);
});

test("D20: every package of the lockfile has its hash", () => {
  const bare = Object.entries(lock).filter(([path, { integrity }]) => path !== "" && !integrity);
  expect(bare.map(([path]) => path)).toEqual([]);
});
