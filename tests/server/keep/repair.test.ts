import { readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, test } from "vitest";
import { findFaults } from "../../../server/keep/find-faults.ts";
import { lookOver } from "../../../server/keep/look-over.ts";
import { bridge, cutAfter } from "../../../server/keep/repair.ts";
import { openStore } from "../../../server/store/store.ts";
import { keptFolder, keptPhoto, writeKept } from "../../support/kept-delivery.ts";
import { by } from "../../support/small-delivery.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";
import { journalPath, testNow, writtenId } from "../../support/written-delivery.ts";

/** Lines: 1 the delivery, 2 to 4 counts, 5 to 7 photos, 8 and 9 records. Line 6, photo 2, is damaged. */
const damaged = async (snapshots: "with" | "without" = "without") => {
  const data = await temporaryFolder();
  const ids = await writeKept(data, 3, 2);
  const journal = await readFile(journalPath(data), "utf8");
  await writeFile(journalPath(data), journal.replace('"Photo 2"', '"Photo 7"'));
  if (snapshots === "without") await rm(join(keptFolder(data), "snapshots"), { recursive: true });
  return { data, ids };
};

test("tells line by line what is wrong, and which photos no sound line names", async () => {
  const { data, ids } = await damaged();
  await rm(keptPhoto(data, ids[0] ?? ""));
  expect(await findFaults(writtenId, data)).toEqual({
    delivery: writtenId,
    opens: false,
    sound: 5,
    rest: [
      { line: 6, what: "Photo 7", fault: "was changed after it was written" },
      { line: 7, what: "Photo 3", fault: null },
      { line: 8, what: "Issued record 1", fault: null },
      { line: 9, what: "Issued record 2", fault: null },
    ],
    bridgedTo: null,
    photosWithoutLine: ids.slice(1).sort(),
    linesWithoutPhoto: ["photo 1"],
  });
});

test("a sound delivery opens and is not cut; one without a journal is left to a backup", async () => {
  const data = await temporaryFolder();
  await writeKept(data, 1, 0);
  expect(await findFaults(writtenId, data)).toMatchObject({ opens: true, sound: 5, rest: [] });
  await expect(cutAfter(writtenId, data, 3, by, testNow())).rejects.toThrow(/opens: there is nothing to repair/);
  await rm(journalPath(data));
  expect(await findFaults(writtenId, data)).toMatchObject({ opens: false, sound: 0, photosWithoutLine: [/./] });
  await expect(cutAfter(writtenId, data, 1, by, testNow())).rejects.toThrow(/Restore it from a backup/);
});

test("cuts after a sound line, sets all that came after aside, says so in the journal, and opens", async () => {
  const { data, ids } = await damaged();
  await expect(cutAfter(writtenId, data, 6, by, testNow())).rejects.toThrow(/cut after a line from 1 to 5/);
  const before = await readFile(journalPath(data));
  const { aside, files } = await cutAfter(writtenId, data, 5, by, testNow());
  expect(await readFile(join(aside, "journal.jsonl"))).toEqual(before);
  expect(files.filter((name) => name.startsWith("records"))).toEqual(
    ["1.json", "1.pdf", "2.json", "2.pdf"].map((name) => `records/record-00000${name}`),
  );
  expect(await lookOver(writtenId, keptFolder(data))).toMatchObject({ faults: [] });

  const store = await openStore(data, testNow);
  expect([...store.damaged]).toEqual([]);
  const delivery = store.open(writtenId);
  expect(delivery.read().photos.map(({ id }) => id)).toEqual([ids[0]]);
  expect(delivery.history().at(-1)).toMatchObject({
    seq: 6,
    actor: by.name,
    what: "Repaired: what came after line 5 was damaged and is set aside",
  });
  await delivery.change(by, "Counted on", (draft) => {
    draft.lines[0]!.counted = 4;
  });
  await store.close();
  expect(await findFaults(writtenId, data)).toMatchObject({ opens: true, sound: 7 });
});

/** The documents of two folders, but for what a repair says of itself. */
const documentIn = async (data: string) => {
  const store = await openStore(data, testNow);
  expect([...store.damaged]).toEqual([]);
  const [document, history] = [store.open(writtenId).read(), store.open(writtenId).history()];
  await store.close();
  return { document, history };
};

test("bridges damaged lines by the snapshot made after them: nothing is lost, and the journal says so", async () => {
  const data = await temporaryFolder();
  await writeKept(data, 3, 2);
  const before = (await documentIn(data)).document;
  const snapshots = join(keptFolder(data), "snapshots");
  const store = await openStore(data, testNow);
  await store.open(writtenId).change(by, "Counted on", (draft) => {
    draft.lines[0]!.counted = 4;
  });
  await store.close();
  await rm(join(snapshots, "snapshot-000000010.json"));
  const journal = await readFile(journalPath(data), "utf8");
  await writeFile(journalPath(data), journal.replace('"Photo 2"', '"Photo 7"').replace('"Issued record 1"', "}{"));

  expect(await findFaults(writtenId, data)).toMatchObject({ opens: false, sound: 5, bridgedTo: 10 });
  const { upTo, files } = await bridge(writtenId, data, by, testNow());
  expect(upTo).toBe(10);
  expect(files).toContain("snapshots/snapshot-000000009.json");
  expect(files.filter((name) => name.startsWith("records"))).toEqual([]);
  const { document, history } = await documentIn(data);
  expect(document).toEqual({ ...before, lines: [{ ...before.lines[0], counted: 4 }, ...before.lines.slice(1)] });
  expect(history.slice(5).map(({ what }) => what)).toEqual([
    "Repaired: lines 6 to 9 were damaged; what they did is taken from the snapshot of line 9",
    "Counted on",
  ]);
  expect(await lookOver(writtenId, keptFolder(data))).toMatchObject({ faults: [] });
  await expect(bridge(writtenId, data, by, testNow())).rejects.toThrow(/opens: there is nothing to repair/);
});

test("without a snapshot made after the damage there is no bridge", async () => {
  const { data } = await damaged();
  await expect(bridge(writtenId, data, by, testNow())).rejects.toThrow(/cut after it instead/);
});
