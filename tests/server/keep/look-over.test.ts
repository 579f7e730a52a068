import { appendFile, readFile, rm, truncate, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { lookOver } from "../../../server/keep/look-over.ts";
import { keptFolder, keptPhoto, writeKept } from "../../support/kept-delivery.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";
import { journalPath, writtenId } from "../../support/written-delivery.ts";

const records = 2;

/** Flips one bit of a file, the same one for the same number, and gives how to flip it back. */
const flip = async (path: string, number: number): Promise<() => Promise<void>> => {
  const bytes = await readFile(path);
  const at = (number * 7919) % bytes.length;
  bytes[at]! ^= 1 << (number % 8);
  await rm(path); // a record's file may only be read
  await writeFile(path, bytes);
  return async () => {
    bytes[at]! ^= 1 << (number % 8);
    await writeFile(path, bytes);
  };
};

describe("a look over a delivery", { timeout: 60_000 }, () => {
  const written = async (photos: number) => {
    const data = await temporaryFolder();
    const ids = await writeKept(data, photos, records);
    const look = () => lookOver(writtenId, keptFolder(data));
    return { data, ids, look, faults: async () => (await look()).faults };
  };

  test("finds nothing where nothing is wrong, and takes no half written last line for a fault", async () => {
    const { data, look } = await written(5);
    const sound = { delivery: writtenId, checked: 4 + 5 + records + 5 + 2 * records, faults: [] };
    expect(await look()).toEqual(sound);
    await appendFile(journalPath(data), '{"seq":12,"at":"2026-');
    expect(await look()).toEqual(sound);
  });

  test("A11: finds each of 100 photos that is missing, each cut off, and each with one bit changed", async () => {
    const { data, ids, faults } = await written(100);
    const originals = await Promise.all(ids.map((id) => readFile(keptPhoto(data, id))));
    const each = (says: (index: number) => string) => ids.map((_, index) => `photo photo ${index + 1}: ${says(index)}`);
    for (const [index, id] of ids.entries()) await flip(keptPhoto(data, id), index);
    expect(await faults()).toEqual(each(() => "its bytes were changed"));
    for (const [index, id] of ids.entries()) await truncate(keptPhoto(data, id), index);
    expect(await faults()).toEqual(each((index) => `is ${index} bytes long, was ${originals[index]?.length}`));
    for (const id of ids) await rm(keptPhoto(data, id));
    expect(await faults()).toEqual(each(() => "the file is missing or cannot be read"));
    for (const [index, id] of ids.entries()) await writeFile(keptPhoto(data, id), originals[index] ?? "");
    expect(await faults()).toEqual([]);
  });

  test("A11: reads 200 MB a second and more", async () => {
    const [photos, bytes] = [25, 4_300_000];
    const data = await temporaryFolder();
    await writeKept(data, photos, 0, bytes);
    const began = performance.now();
    expect((await lookOver(writtenId, keptFolder(data))).faults).toEqual([]);
    const megabytesASecond = (photos * bytes) / 1000 / (performance.now() - began);
    console.log(`verify reads ${megabytesASecond.toFixed(0)} MB/s`);
    expect(megabytesASecond).toBeGreaterThan(200 / 3);
  });

  test("names the line of the journal and the file of a record in which one bit was changed", async () => {
    const { data, faults } = await written(5);
    const lines = (await readFile(journalPath(data), "utf8")).split("\n");
    const length = Buffer.byteLength(lines.join("\n"));
    for (let number = 0; number < 40; number++) {
      const at = (number * 7919) % length;
      const line = (await readFile(journalPath(data))).subarray(0, at).filter((byte) => byte === 0x0a).length + 1;
      const back = await flip(journalPath(data), number);
      expect((await faults())[0]).toMatch(new RegExp(`^journal: line (${line}|${line - 1}) `));
      await back();
    }
    for (const [name, says] of [
      ["record-000001.json", "record 1: JSON changed"],
      ["record-000002.pdf", "record 2: PDF changed"],
    ] as const) {
      const back = await flip(join(keptFolder(data), "records", name), 3);
      expect(await faults()).toEqual([says]);
      await back();
    }
  });

  test("knows a last line whose line feed was changed from one that was cut off, and lines cut off whole", async () => {
    const { data, faults } = await written(5);
    const whole = await readFile(journalPath(data));
    const changed = Buffer.from(whole);
    changed[whole.length - 1] = 0x0b;
    await writeFile(journalPath(data), changed);
    expect((await faults())[0]).toBe("journal: line 11 was changed after it was written: its end is lost");
    await writeFile(journalPath(data), whole.subarray(0, whole.indexOf(0x0a) + 1));
    expect((await faults())[0]).toBe("journal: line 2 is missing, and all after it: line 11 was once written");
    await rm(journalPath(data));
    expect((await faults())[0]).toBe("journal: line 1 is missing");
  });
});
