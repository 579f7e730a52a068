import { cp, readFile } from "node:fs/promises";
import { join } from "node:path";
import { applyPatches } from "immer";
import { describe, expect, onTestFinished, test } from "vitest";
import { documentVersion } from "../../../server/contract/delivery.ts";
import { readJournalText } from "../../../server/store/journal-line.ts";
import { migrate } from "../../../server/store/migrations.ts";
import { openStore } from "../../../server/store/store.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";
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

const versions = Array.from({ length: documentVersion - 1 }, (_, index) => index + 1);

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
      expect(delivery.history().at(-1)).toMatchObject({ what: `Brought to version ${documentVersion}` });
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

test("A12: a newer version is refused and named", () => {
  expect(() => migrate({ version: documentVersion + 1 })).toThrow(/newer Leafledger \(version 3, this one knows 2\)/);
  expect(() => migrate({})).toThrow(/no version/);
});
