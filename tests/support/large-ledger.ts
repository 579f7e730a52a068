import { createHash } from "node:crypto";
import { appendFile, readFile, rm } from "node:fs/promises";
import type { Leaf } from "../../server/contract/leaf.ts";
import type { Photo } from "../../server/contract/photo.ts";
import { type JournalLine, readJournalText, sealLine, writeLine } from "../../server/store/journal-line.ts";
import { by } from "./small-delivery.ts";
import { journalPath, testNow, writeDelivery } from "./written-delivery.ts";

const leaves = 5000;
const photos = 20_000;

/** The code of one of its leaves, counted from 0. */
export const largeCode = (number: number): string => `W${String(number).padStart(4, "0")}`;

const leaf = (number: number): Leaf => ({
  code: largeCode(number),
  line: "L1",
  pattern: "FLUSH-826",
  thicknessMm: 44,
  batch: null,
  identity: "as-ordered",
  pairWith: null,
  replaces: null,
  massKg: null,
  unwrappedAt: null,
  cut: false,
  shape: [],
  decision: null,
});

const photo = (number: number): Photo => ({
  id: createHash("sha256").update(String(number)).digest("hex"),
  name: `IMG_${number}.jpg`,
  kind: "single",
  shows: [{ leaf: largeCode(number % leaves), face: "A", corners: null }],
  note: "",
  takenAt: testNow(),
  receivedAt: testNow(),
  bytes: 4_300_000,
  width: 4000,
  height: 3000,
  camera: "",
  by: by.name,
  flags: [],
});

/** Lines that add these to a list, behind the line given. */
const adding = (last: JournalLine, list: "leaves" | "photos", parts: readonly object[]): JournalLine[] => {
  const lines: JournalLine[] = [];
  for (const [index, value] of parts.entries()) {
    const patches = [{ op: "add" as const, path: [list, index], value }];
    const inverse = [{ op: "replace" as const, path: [list, "length"], value: index }];
    const what = `Added to ${list}`;
    lines.push(
      sealLine(lines.at(-1) ?? last, { at: testNow(), actor: by.name, device: by.device, what, patches, inverse }),
    );
  }
  return lines;
};

const numbers = (count: number): number[] => Array.from({ length: count }, (_, index) => index);

/** A data folder with 5,000 leaves and 20,000 photos, a journal line each; without the photos' files. What was in it is removed. */
export const writeLargeLedger = async (folder: string): Promise<void> => {
  await rm(folder, { recursive: true, force: true });
  await writeDelivery(folder, 0);
  const written = readJournalText(await readFile(journalPath(folder)));
  const first = written.kind === "sound" ? written.lines.at(-1) : undefined;
  if (!first) throw new Error("no journal was written");
  const leafLines = adding(first, "leaves", numbers(leaves).map(leaf));
  const lines = [...leafLines, ...adding(leafLines.at(-1) ?? first, "photos", numbers(photos).map(photo))];
  await appendFile(journalPath(folder), lines.map(writeLine).join(""));
};
