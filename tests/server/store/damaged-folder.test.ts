import { mkdir, readFile, rm, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { describe, expect, onTestFinished, test } from "vitest";
import { uniformFrom } from "../../../analysis/algebra/seeded-random.ts";
import { sha256Of } from "../../../server/records/canonical.ts";
import { openStore } from "../../../server/store/store.ts";
import { by } from "../../support/small-delivery.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";
import { journalPath, testNow, writeDelivery, writtenId } from "../../support/written-delivery.ts";

const photo = Buffer.from("the bytes of a photo");

/** A sound folder in memory: its journal, its snapshot; counts 1 to 6 and a photo. */
const written = async () => {
  const folder = await temporaryFolder();
  await writeDelivery(folder, 5);
  const store = await openStore(folder, testNow);
  const delivery = store.open(writtenId);
  const id = sha256Of(photo);
  const path = join(delivery.temporaryFolder, "one");
  await writeFile(path, photo);
  await delivery.photos.keep(path, id);
  await delivery.change(by, "Counted 6", (draft) => {
    const line = draft.lines[0];
    if (line) line.counted = 6;
  });
  await store.close();
  const snapshots = join(dirname(journalPath(folder)), "snapshots");
  return { folder, journal: await readFile(journalPath(folder)), snapshots, photoPath: delivery.photos.path(id) };
};

type Found = { readonly counted: number } | { readonly damaged: string };

const open = async (folder: string): Promise<Found> => {
  const store = await openStore(folder, testNow);
  try {
    const damaged = store.damaged.get(writtenId);
    if (damaged !== undefined) return { damaged };
    return { counted: store.open(writtenId).read().lines[0]?.counted ?? 0 };
  } finally {
    await store.close();
  }
};

const lineStarts = (journal: Buffer): number[] => {
  const starts = [0];
  for (let at = journal.indexOf(0x0a); at >= 0; at = journal.indexOf(0x0a, at + 1)) starts.push(at + 1);
  return starts;
};

/** How many lines a cut journal still holds whole. */
const wholeLines = (journal: Buffer, length: number): number =>
  journal.subarray(0, length).filter((byte) => byte === 0x0a).length;

const withoutSnapshots = async (snapshots: string): Promise<void> => {
  await rm(snapshots, { recursive: true, force: true });
  await mkdir(snapshots);
};

describe("A10: a damaged folder never starts empty, and its photo stays", { timeout: 120_000 }, () => {
  test("cut at every byte of its last three lines: what was whole is there and the rest kept aside, or it stops since a snapshot saw more", async () => {
    const { journal, snapshots } = await written();
    const snapshot = await readFile(join(snapshots, "snapshot-000000007.json"));
    const folder = await temporaryFolder();
    const placeOf = (length: number): string => join(folder, "deliveries", `cut${length}`);
    const starts = lineStarts(journal);
    const from = starts.at(-4) ?? 0;
    const lengths = Array.from({ length: journal.length - from }, (_, index) => from + index);
    for (const length of lengths) {
      await mkdir(join(placeOf(length), "snapshots"), { recursive: true });
      await writeFile(join(placeOf(length), "journal.jsonl"), journal.subarray(0, length));
      if (length % 2 === 0) await writeFile(join(placeOf(length), "snapshots", "snapshot-000000007.json"), snapshot);
    }
    const store = await openStore(folder, testNow);
    onTestFinished(() => store.close());
    for (const length of lengths) {
      const lines = wholeLines(journal, length);
      const hint = `cut at ${length}`;
      if (length % 2 === 0) {
        expect(store.damaged.get(`cut${length}`), hint).toMatch(`ends at line ${lines}`);
        continue;
      }
      expect(store.open(`cut${length}`).read().lines[0]?.counted, hint).toBe(lines - 1);
      const tail = journal.subarray(starts[lines], length);
      if (tail.length > 0)
        expect(await readFile(join(placeOf(length), `journal.jsonl.cut-after-line-${lines}`)), hint).toEqual(tail);
    }
    console.log(`A10: ${lengths.length} cuts`);
    expect(lengths.length).toBeGreaterThan(300);
  });

  test("one flipped byte, a page of zeros, a piece doubled or taken out, at 120 places: stops with the line, and the file stays", async () => {
    const { folder, journal, photoPath } = await written();
    const random = uniformFrom(20_261_125);
    const starts = lineStarts(journal);
    for (let tried = 0; tried < 120; tried++) {
      const at = Math.floor(random() * (journal.length - 600));
      const damaged = Buffer.from(journal);
      const kinds = [
        () => {
          damaged.writeUInt8(damaged.readUInt8(at) ^ (1 << (tried % 8)), at);
          return damaged;
        },
        () => damaged.fill(0, at, at + 512),
        () => Buffer.concat([journal.subarray(0, at + 40), journal.subarray(at)]),
        () => Buffer.concat([journal.subarray(0, at), journal.subarray(at + 40)]),
      ];
      const content = kinds[tried % kinds.length]?.() ?? damaged;
      await writeFile(journalPath(folder), content);
      const line = starts.filter((start) => start <= at).length;
      const found = await open(folder);
      const hint = `kind ${tried % kinds.length} at ${at}`;
      expect(found, hint).toEqual({ damaged: expect.stringMatching(/line \d+/) });
      const told = Number("damaged" in found ? /line (\d+)/.exec(found.damaged)?.[1] : 0);
      expect(Math.abs(told - line), hint).toBeLessThanOrEqual(1);
      expect(await readFile(journalPath(folder)), hint).toEqual(content);
    }
    expect(await readFile(photoPath)).toEqual(photo);
  });

  const contents = [
    ["empty", () => Buffer.alloc(0)],
    ["null", () => Buffer.from("null\n")],
    ["null without its line feed", () => Buffer.from("null")],
    ["{}", () => Buffer.from("{}\n")],
    ["a line feed", () => Buffer.from("\n")],
    ["zeros", (journal: Buffer) => Buffer.alloc(journal.length)],
    ["a BOM before it", (journal: Buffer) => Buffer.concat([Buffer.from([0xef, 0xbb, 0xbf]), journal])],
    ["UTF-16", (journal: Buffer) => Buffer.from(journal.toString("utf8"), "utf16le")],
    ["CR LF", (journal: Buffer) => Buffer.from(journal.toString("utf8").replaceAll("\n", "\r\n").replace("{", " {"))],
    [
      "its lines the other way round",
      (journal: Buffer) => Buffer.from(`${journal.toString("utf8").trim().split("\n").toReversed().join("\n")}\n`),
    ],
  ] as const;
  test.each(contents)("journal: %s", async (_, content) => {
    const { folder, journal, snapshots, photoPath } = await written();
    const changed = content(journal);
    for (const snapshotToo of [true, false]) {
      if (!snapshotToo) await withoutSnapshots(snapshots);
      await writeFile(journalPath(folder), changed);
      const found = await open(folder);
      if ("counted" in found) expect(found.counted).toBe(6);
      else expect(found.damaged).toMatch(/line 1|ends at line/);
      expect(await readFile(journalPath(folder))).toEqual(changed);
    }
    expect(await readFile(photoPath)).toEqual(photo);
  });

  test("snapshots that are missing, empty, null, cut, of another journal: the journal is enough", async () => {
    const { folder, snapshots } = await written();
    const name = join(snapshots, "snapshot-000000007.json");
    const sound = await readFile(name, "utf8");
    const body = sound.slice(65).replace(/"sha256":"./, '"sha256":"x');
    const others = ["", "null", sound.slice(0, 200), `\uFEFF${sound}`, `${sha256Of(body)}\n${body}`];
    for (const content of others) {
      await writeFile(name, content);
      expect(await open(folder), content.slice(0, 80)).toEqual({ counted: 6 });
    }
    await rm(snapshots, { recursive: true });
    expect(await open(folder)).toEqual({ counted: 6 });
  });

  test("a missing journal, with and without snapshots: stops, and nothing is made in its place", async () => {
    const { folder, snapshots, photoPath } = await written();
    await rm(journalPath(folder));
    for (const snapshotToo of [true, false]) {
      if (!snapshotToo) await withoutSnapshots(snapshots);
      expect(await open(folder)).toEqual({ damaged: expect.stringMatching(/its journal is missing/) });
      await expect(readFile(journalPath(folder))).rejects.toThrow(/ENOENT/);
    }
    expect(await readFile(photoPath)).toEqual(photo);
  });
});
