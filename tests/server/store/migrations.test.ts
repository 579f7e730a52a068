import { cp, readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { applyPatches } from "immer";
import { describe, expect, onTestFinished, test } from "vitest";
import { documentVersion } from "../../../server/contract/delivery.ts";
import { readJournalText } from "../../../server/store/journal-line.ts";
import { migrate } from "../../../server/store/migrations.ts";
import { openStore } from "../../../server/store/store.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";
import { ended, firstLine, startScript } from "../../support/tsx-process.ts";
import { journalPath, testNow, writtenId } from "../../support/written-delivery.ts";

/** One data folder a version, as that version wrote it: lines of many kinds, a photo, a record. */
const golden = (version: number): string => join(import.meta.dirname, "golden", `v${version}`);

const copyOf = async (version: number): Promise<string> => {
  const folder = await temporaryFolder();
  await cp(golden(version), folder, { recursive: true });
  return folder;
};

/** The document that the journal of a folder adds up to, in the shape it was written in. */
const asWritten = async (folder: string): Promise<Record<string, unknown>> => {
  const text = readJournalText(await readFile(journalPath(folder)));
  if (text.kind === "damaged") throw new Error(text.why);
  return applyPatches(
    {},
    text.lines.flatMap(({ patches }) => [...patches]),
  );
};

const versions = Array.from({ length: documentVersion }, (_, index) => index + 1);

describe("A12: a folder of an earlier version", () => {
  test.each(versions)(
    "%i opens with every field, its old lines stay as they were, its photo and record whole",
    async (version) => {
      const folder = await copyOf(version);
      const before = await readFile(journalPath(folder));
      const old = await asWritten(folder);
      const store = await openStore(folder, testNow);
      onTestFinished(() => store.close());
      const delivery = store.open(writtenId);
      expect(delivery.read()).toEqual({ ...old, version: documentVersion, conflicts: [] });
      expect((await delivery.verify()).faults).toEqual([]);
      expect((await readFile(journalPath(folder))).subarray(0, before.length)).toEqual(before);
      const last = delivery.history().at(-1);
      if (version < documentVersion)
        expect(last).toMatchObject({ what: `Brought to version ${documentVersion}`, undoable: false });
      else expect((await readFile(journalPath(folder))).length, "nothing is added").toBe(before.length);
    },
  );

  test("is brought over once: opening again adds no line, and the change can be turned back by its inverse", async () => {
    const folder = await copyOf(1);
    const old = await asWritten(folder);
    for (let opening = 0; opening < 2; opening++) await (await openStore(folder, testNow)).close();
    const text = readJournalText(await readFile(journalPath(folder)));
    expect(text).toMatchObject({ kind: "sound", lines: { length: 8 } });
    const { document, inverse } = migrate(old);
    expect(applyPatches(document, [...inverse])).toEqual(old);
  });
});

test("A12: killed again and again while 24 folders of an earlier version are opened (100 were tried): each folder opens, with every field and one line more", {
  timeout: 60_000,
}, async () => {
  const folders: string[] = [];
  for (let number = 0; number < 24; number++) folders.push(await copyOf(1));
  const old = await asWritten(folders[0] ?? "");
  let left = folders;
  for (let kill = 0; left.length > 0; kill++) {
    const child = startScript("tests/support/opening.ts", ...left);
    let last = await firstLine(child);
    child.stdout.on("data", (data) => {
      last = String(data).trim().split("\n").at(-1) ?? last;
    });
    const over = ended(child);
    // Openings take some 70 ms each: the kill meets another moment of one each time.
    await Promise.race([over, wait(600 + ((kill * 37) % 90))]);
    child.kill("SIGKILL");
    await over;
    left = left.slice(left.indexOf(last) + 1);
  }
  for (const folder of folders) {
    const store = await openStore(folder, testNow);
    expect([...store.damaged]).toEqual([]);
    expect(store.open(writtenId).read()).toEqual({ ...old, version: documentVersion, conflicts: [] });
    expect(store.open(writtenId).head().seq).toBe(8);
    await store.close();
  }
});

test("A12: a line that was cut off in being brought over is written anew, wherever it was cut", async () => {
  const folder = await copyOf(1);
  const before = await readFile(journalPath(folder));
  await (await openStore(folder, testNow)).close();
  const after = await readFile(journalPath(folder));
  for (let length = before.length; length < after.length; length += 29) {
    await rm(join(journalPath(folder), "..", "snapshots"), { recursive: true });
    await writeFile(journalPath(folder), after.subarray(0, length));
    await (await openStore(folder, testNow)).close();
    expect(await readFile(journalPath(folder)), `cut at ${length}`).toEqual(after);
  }
});

test("A12: a newer version is refused and named", () => {
  expect(() => migrate({ version: documentVersion + 1 })).toThrow(/newer Leafledger \(version 3, this one knows 2\)/);
  expect(() => migrate({})).toThrow(/no version/);
});
