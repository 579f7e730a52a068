import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll, expect, test } from "vitest";

const here = join(import.meta.dirname, "..");
const planted = mkdtempSync(join(tmpdir(), "leafledger-imports-"));
afterAll(() => rmSync(planted, { recursive: true }));

/** Lints one planted file under the project's own rules and tells which rules refuse it. */
const refusals = (file: string, source: string): string[] => {
  const path = join(planted, file);
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, source);
  const settings = JSON.parse(readFileSync(join(here, "biome.json"), "utf8"));
  delete settings.$schema;
  writeFileSync(join(planted, "biome.json"), JSON.stringify({ ...settings, vcs: { enabled: false } }));
  try {
    execFileSync(
      process.execPath,
      [join(here, "node_modules/@biomejs/biome/bin/biome"), "lint", "--reporter=json", path],
      {
        cwd: planted,
        encoding: "utf8",
        stdio: ["ignore", "pipe", "ignore"],
      },
    );
    return [];
  } catch (error) {
    const report = JSON.parse((error as { stdout: string }).stdout) as { diagnostics: { category: string }[] };
    return report.diagnostics.map(({ category }) => category);
  }
};

const wrong: [file: string, imported: string][] = [
  ["analysis/colour/planted.ts", "node:fs"],
  ["analysis/solve/planted.ts", "../../server/site.ts"],
  ["analysis/locate/planted.ts", "sharp"],
  ["server/contract/planted.ts", "../rules/line-balance.ts"],
  ["server/rules/planted.ts", "../store/store.ts"],
  ["server/use-cases/planted.ts", "express"],
  ["server/use-cases/planted.ts", "../images/decode.ts"],
  ["server/keep/planted.ts", "../use-cases/verify-delivery.ts"],
  ["server/access/planted.ts", "../use-cases/view-leaf.ts"],
  ["server/access/planted.ts", "../store/store.ts"],
  ["server/access/planted.ts", "../../analysis/colour/lab.ts"],
  ["server/access/planted.ts", "../site.ts"],
  ["server/access/planted.ts", "express"],
  ["server/routes/planted.ts", "../rules/claim-window.ts"],
  ["client/screens/planted.ts", "../../server/store/store.ts"],
  ["client/screens/planted.ts", "../../analysis/solve/light-adjustment.ts"],
  ["sample-images/render/planted.ts", "../../analysis/colour/lab.ts"],
];

test.each(wrong)("%s may not import %s", (file, imported) => {
  expect(refusals(file, `import { it } from "${imported}";\nexport const used = it;\n`)).toContain(
    "lint/style/noRestrictedImports",
  );
});

const right: [file: string, imported: string][] = [
  ["analysis/solve/planted.ts", "../algebra/least-squares.ts"],
  ["server/rules/planted.ts", "../contract/terms.ts"],
  ["server/use-cases/planted.ts", "../rules/line-balance.ts"],
  ["server/keep/planted.ts", "../store/journal.ts"],
  ["server/access/planted.ts", "../contract/access.ts"],
  ["server/access/planted.ts", "../problem.ts"],
  ["server/access/planted.ts", "../store/disk.ts"],
  ["server/access/planted.ts", "../store/one-at-a-time.ts"],
  ["server/access/planted.ts", "node:crypto"],
  ["server/routes/planted.ts", "../use-cases/view-leaf.ts"],
  ["client/screens/planted.ts", "../../server/contract/paths.ts"],
  ["client/screens/planted.ts", "../../analysis/intake/quality-gates.ts"],
  ["client/screens/planted.ts", "../../analysis/joints/joint-lines.ts"],
];

test.each(right)("%s may import %s", (file, imported) => {
  expect(refusals(file, `import { it } from "${imported}";\nexport const used = it;\n`)).not.toContain(
    "lint/style/noRestrictedImports",
  );
});

test("a circle of imports is refused", () => {
  writeFileSync(join(planted, "one.ts"), 'import { two } from "./two.ts";\nexport const one = (): unknown => two;\n');
  expect(refusals("two.ts", 'import { one } from "./one.ts";\nexport const two = (): unknown => one;\n')).toContain(
    "lint/suspicious/noImportCycles",
  );
});
