import { appendFile, readdir, readFile, rm, stat, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, test } from "vitest";
import { backUp } from "../../../server/keep/back-up.ts";
import { lookOver } from "../../../server/keep/look-over.ts";
import { restore } from "../../../server/keep/restore.ts";
import { lockFolder } from "../../../server/store/folder-lock.ts";
import { openStore } from "../../../server/store/store.ts";
import { keptFolder, keptPhoto, writeKept } from "../../support/kept-delivery.ts";
import { smallDisk, whyNoMount } from "../../support/small-disk.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";
import { journalPath, testNow, writtenId } from "../../support/written-delivery.ts";

const made = async () => {
  const [data, to] = [await temporaryFolder(), join(await temporaryFolder(), "backup")];
  const ids = await writeKept(data, 4, 2);
  return { data, to, ids };
};

test("a backup holds journal, photos and records, and comes back as the delivery was", async () => {
  const { data, to, ids } = await made();
  await appendFile(journalPath(data), '{"seq":11,'); // a line that is being written
  const { list, found } = await backUp(data, [writtenId], to, testNow());
  expect(list.deliveries).toMatchObject([{ delivery: writtenId, lines: 10, photos: 4, records: 2 }]);
  expect(found).toEqual([{ delivery: writtenId, checked: 10 + 4 + 4, faults: [] }]);

  expect(await readdir(to)).toEqual(["backup.json", "deliveries"]); // no sessions, no secrets

  const into = await temporaryFolder();
  expect((await restore(to, undefined, into)).found).toEqual(found);
  const [before, after] = [await openStore(data, testNow), await openStore(into, testNow)];
  expect(after.open(writtenId).read()).toEqual(before.open(writtenId).read());
  expect(after.open(writtenId).photos.has(ids[0] ?? "")).toBe(true);
  await before.close();
  await after.close();
  expect((await stat(join(keptFolder(into), "records", "record-000001.json"))).mode & 0o777).toBe(0o444);
});

test("nothing is written over: not a backup, not a delivery, not a folder that a server holds", async () => {
  const { data, to } = await made();
  await backUp(data, [writtenId], to, testNow());
  await expect(backUp(data, [writtenId], to, testNow())).rejects.toThrow(/is not empty/);
  await expect(restore(to, undefined, data)).rejects.toThrow(/is in .* already and is not written over/);
  const held = await temporaryFolder();
  const lock = await lockFolder(held);
  await expect(restore(to, undefined, held)).rejects.toThrow(/already in use by process/);
  await lock.release();
  await expect(restore(to, "nosuch", held)).rejects.toThrow("There is no delivery nosuch in this backup.");
  await expect(restore(held, undefined, held)).rejects.toThrow(/is no backup/);
});

test("a backup that was damaged or cut short since is not restored", async () => {
  const { data, to } = await made();
  await backUp(data, [writtenId], to, testNow());
  const journal = await readFile(journalPath(to));
  const into = await temporaryFolder();
  await writeFile(journalPath(to), String(journal).replace("Counted 2", "Counted 3"));
  await expect(restore(to, undefined, into)).rejects.toThrow(/line 3 was changed after it was written/);
  await writeFile(journalPath(to), journal.subarray(0, journal.lastIndexOf(0x0a, journal.length - 2) + 1));
  await expect(restore(to, undefined, into)).rejects.toThrow(/is not as it was backed up: line 10/);
  expect(await readdir(into)).toEqual([]);
});

test("a photo that is missing already is told, and stays a named photo", async () => {
  const { data, to, ids } = await made();
  await rm(keptPhoto(data, ids[2] ?? ""));
  const { found } = await backUp(data, [writtenId], to, testNow());
  expect(found[0]?.faults).toEqual(["photo photo 3: the file is missing or cannot be read"]);
  const into = await temporaryFolder();
  expect((await restore(to, undefined, into)).found[0]?.faults).toEqual(found[0]?.faults);
  expect((await lookOver(writtenId, keptFolder(into))).faults).toEqual(found[0]?.faults);
});

test("a delivery whose journal is damaged is left out and told; the others are backed up", async () => {
  const { data, to } = await made();
  await writeFile(join(data, "deliveries", writtenId, "journal.jsonl"), "null\n");
  const { list, found } = await backUp(data, [writtenId], to, testNow());
  expect(list.deliveries).toEqual([]);
  expect(found[0]?.faults[0]).toMatch(/^not backed up: line 1 of its journal is not readable\./);
});

test.skipIf(whyNoMount() !== null)(
  "a disk too small for a backup, or for what it holds, is said; no part is left",
  async () => {
    const data = await temporaryFolder();
    await writeKept(data, 20, 0, 100_000);
    const whole = join(await temporaryFolder(), "backup");
    await backUp(data, [writtenId], whole, testNow());
    const { folder: small } = await smallDisk(1);
    await expect(backUp(data, [writtenId], small, testNow())).rejects.toThrow(/^There is not enough room for /);
    expect(await readdir(small)).toEqual([]);
    await expect(restore(whole, undefined, small)).rejects.toThrow(/^There is not enough room for /);
    expect(await readdir(join(small, "deliveries"))).toEqual([]);
  },
);
