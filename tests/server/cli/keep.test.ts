import { spawnSync } from "node:child_process";
import { readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, test } from "vitest";
import { builtMain } from "../../support/built-server.ts";
import { keptPhoto, writeKept } from "../../support/kept-delivery.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";
import { journalPath, writtenId } from "../../support/written-delivery.ts";

const run = (...args: string[]) => {
  const { status, stdout, stderr } = spawnSync(process.execPath, [builtMain(), ...args], { encoding: "utf8" });
  return { code: status, out: stdout, err: stderr };
};

test("backup and restore say what they hold, and end with 1 when a photo is missing", { timeout: 60_000 }, async () => {
  const data = await temporaryFolder();
  const ids = await writeKept(data, 2, 1);
  const to = join(await temporaryFolder(), "backup");
  expect(run("backup", "--to", to, "--data", data)).toMatchObject({
    code: 2,
    err: expect.stringContaining("one of the two"),
  });
  const { code, out } = run("backup", "--all", "--to", to, "--data", data);
  expect(code).toBe(0);
  expect(out).toContain("tarnmill (Tarn Mill): 7 changes, 2 photos, 1 records.\ntarnmill: sound, 11 things checked.\n");
  expect(run("verify", "--data", to)).toMatchObject({ code: 0, out: "tarnmill: sound, 11 things checked.\n" });

  await rm(keptPhoto(to, ids[1] ?? ""));
  const back = join(await temporaryFolder(), "data");
  const restored = run("restore", "--from", to, "--data", back, "--json");
  expect(restored.code).toBe(1);
  expect(JSON.parse(restored.out)).toMatchObject({
    sound: false,
    deliveries: [{ delivery: writtenId, lines: 7 }],
    found: [{ faults: ["photo photo 2: the file is missing or cannot be read"] }],
  });
  expect(run("restore", "--from", to, "--data", back)).toMatchObject({
    code: 1,
    err: expect.stringContaining("is not written over"),
  });
});

test("repair says what to do, and does it when told", { timeout: 60_000 }, async () => {
  const data = await temporaryFolder();
  await writeKept(data, 1, 1);
  const journal = await readFile(journalPath(data), "utf8");
  await writeFile(journalPath(data), journal.replace('"Photo 1"', '"Photo 8"'));
  const found = run("repair", writtenId, "--data", data);
  expect(found.code).toBe(1);
  expect(found.out).toContain("sound up to line 4, then:\n  line 5 was changed after it was written (Photo 8)\n");
  expect(found.out).toContain("leafledger repair tarnmill --bridge\n");
  const cut = run("repair", writtenId, "--cut-after", "4", "--by", "R. Tester", "--data", data);
  expect(cut).toMatchObject({ code: 0, out: expect.stringContaining("opens with all up to line 4") });
  expect(cut.out).toContain("The next record takes the number of the first one set aside.");
  expect(run("repair", writtenId, "--data", data)).toMatchObject({ code: 0 });
  expect(run("repair", "nosuch", "--data", data)).toMatchObject({ code: 1 });
});
