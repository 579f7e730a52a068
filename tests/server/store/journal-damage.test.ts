import { readdir, readFile, rm, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { describe, expect, test } from "vitest";
import { readJournalText } from "../../../server/store/journal-line.ts";
import { openStore } from "../../../server/store/store.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";
import { journalPath, testNow, writeDelivery, writtenId } from "../../support/written-delivery.ts";

/** Opens the folder and gives how many leaves line L1 counts, or why the delivery could not be opened. */
const openCount = async (folder: string): Promise<number | null | string> => {
  const store = await openStore(folder, testNow);
  try {
    const why = store.damaged.get(writtenId);
    return why ?? store.open(writtenId).read().lines[0]?.counted ?? null;
  } finally {
    await store.close();
  }
};

const snapshots = (folder: string): string => join(dirname(journalPath(folder)), "snapshots");

describe("a journal cut short", () => {
  test("at every byte of its last line: what was whole is there, the rest is kept aside, and it can be written on", async () => {
    const folder = await temporaryFolder();
    await writeDelivery(folder, 3);
    await rm(snapshots(folder), { recursive: true });
    const whole = await readFile(journalPath(folder));
    const lastLine = whole.lastIndexOf(0x0a, whole.length - 2) + 1;
    for (let length = lastLine; length < whole.length; length += 37) {
      await writeFile(journalPath(folder), whole.subarray(0, length));
      expect(await openCount(folder), `cut at ${length}`).toBe(2);
      await rm(snapshots(folder), { recursive: true });
      const aside = join(dirname(journalPath(folder)), "journal.jsonl.cut-after-line-3");
      if (length > lastLine) expect(await readFile(aside)).toEqual(whole.subarray(lastLine, length));
    }
  });

  test("below what a snapshot saw: stops instead of forgetting", async () => {
    const folder = await temporaryFolder();
    await writeDelivery(folder, 3);
    const whole = await readFile(journalPath(folder));
    await writeFile(journalPath(folder), whole.subarray(0, whole.lastIndexOf(0x0a, whole.length - 2) + 1));
    expect(await openCount(folder)).toMatch(/ends at line 3, yet line 4 was once written/);
  });
});

describe("a journal damaged in the middle", () => {
  test("one flipped bit anywhere is found, and the line named", async () => {
    const folder = await temporaryFolder();
    await writeDelivery(folder, 3);
    const whole = await readFile(journalPath(folder));
    for (let at = 0; at < whole.length; at += 11) {
      const flipped = Buffer.from(whole);
      flipped.writeUInt8(flipped.readUInt8(at) ^ 0x04, at);
      const read = readJournalText(flipped);
      const line = whole.subarray(0, at).filter((byte) => byte === 0x0a).length + 1;
      if (read.kind === "sound")
        expect(read.lines.length).toBeLessThan(4); // the last line feed itself was hit
      else expect(Math.abs(read.line - line)).toBeLessThanOrEqual(1);
    }
  });

  test("the delivery stops with the line's number, its files stay, and other deliveries are served", async () => {
    const folder = await temporaryFolder();
    await writeDelivery(folder, 3);
    const whole = await readFile(journalPath(folder), "utf8");
    const lines = whole.split("\n");
    await writeFile(
      journalPath(folder),
      [lines[0], lines[1]?.replace("Counted 1", "Counted 9"), ...lines.slice(2)].join("\n"),
    );
    const changed = await readFile(journalPath(folder), "utf8");
    expect(await openCount(folder)).toMatch(/line 2 was changed after it was written/);
    expect(await readFile(journalPath(folder), "utf8")).toBe(changed);
  });

  test.each([
    ["empty", ""],
    ["null", "null\n"],
    ["a zero-filled page", `${"\0".repeat(4096)}\n`],
  ])("%s never becomes an empty delivery", async (_, content) => {
    const folder = await temporaryFolder();
    await writeDelivery(folder, 1);
    await writeFile(journalPath(folder), content);
    expect(await openCount(folder)).toMatch(/line 1/);
  });

  test("a missing journal beside photos and snapshots never becomes an empty delivery", async () => {
    const folder = await temporaryFolder();
    await writeDelivery(folder, 1);
    await rm(journalPath(folder));
    expect(await openCount(folder)).toMatch(/its journal is missing/);
  });
});

describe("snapshots", () => {
  test("a damaged one is passed over, the journal is enough", async () => {
    const folder = await temporaryFolder();
    await writeDelivery(folder, 3);
    for (const name of await readdir(snapshots(folder))) await writeFile(join(snapshots(folder), name), "null");
    expect(await openCount(folder)).toBe(3);
  });

  test("three are kept", async () => {
    const folder = await temporaryFolder();
    await writeDelivery(folder, 199);
    expect((await readdir(snapshots(folder))).length).toBe(3);
    expect(await openCount(folder)).toBe(199);
  });
});
