/**
 * The test command: brings a browser, builds, runs the unit, property and HTTP tests, then the browser tests, and ends
 * with the line "N passed, N failed". Exits 1 when anything failed or nothing ran.
 */
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { bringBrowser } from "./support/browser.ts";

const reports = mkdtempSync(join(tmpdir(), "leafledger-tests-"));
const run = (args: string[], env: NodeJS.ProcessEnv = {}) =>
  spawnSync("npx", args, { stdio: "inherit", env: { ...process.env, ...env } }).status === 0;
const report = (name: string): Record<string, unknown> => {
  try {
    return JSON.parse(readFileSync(join(reports, name), "utf8"));
  } catch {
    return {};
  }
};

bringBrowser();
const built = run(["tsc", "-p", "tsconfig.build.json"]) && run(["vite", "build"]);
const unitsPass = run([
  "vitest",
  "run",
  "--reporter=default",
  "--reporter=json",
  `--outputFile.json=${join(reports, "units.json")}`,
]);
const pagesPass =
  built &&
  run(["playwright", "test", "--reporter=list,json"], { PLAYWRIGHT_JSON_OUTPUT_NAME: join(reports, "pages.json") });

const units = report("units.json");
const pages = (report("pages.json").stats ?? {}) as Record<string, number>;
const passed = Number(units.numPassedTests ?? 0) + (pages.expected ?? 0) + (pages.flaky ?? 0);
const failedTests = Number(units.numFailedTests ?? 0) + (pages.unexpected ?? 0);
const sound = built && unitsPass && pagesPass && passed > 0;
rmSync(reports, { recursive: true });
if (!built) console.error("The build failed; the browser tests did not run.");
console.log(`${passed} passed, ${Math.max(failedTests, sound ? 0 : 1)} failed`);
process.exit(sound ? 0 : 1);
