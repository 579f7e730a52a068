import { readdir } from "node:fs/promises";
import { join } from "node:path";
import { nodeDisk } from "../store/disk.ts";
import { asLine, beforeFirst, faultOf, type JournalLine } from "../store/journal-line.ts";
import { openSnapshots, type Snapshot } from "../store/snapshot.ts";
import { photosWithoutLine } from "./look-over.ts";
import { folderOf, type Ledger, readLedger } from "./read-ledger.ts";

/** A line of a journal as it lies there, and what is wrong with it. */
interface RawLine {
  readonly line: number;
  readonly read: JournalLine | null;
  readonly fault: string | null;
}

/** One line of a journal: what it says it did, and what is wrong with it. */
export interface LineFound {
  readonly line: number;
  readonly what: string | null;
  readonly fault: string | null;
}

/** What is wrong with a delivery, and what a repair can do. */
export interface Findings {
  readonly delivery: string;
  readonly opens: boolean;
  /** How many lines are sound from the first on. */
  readonly sound: number;
  /** The first line that is not, and all after it. */
  readonly rest: readonly LineFound[];
  /** Up to which line a snapshot and the lines that follow from it make up for what is damaged; null where they do not. */
  readonly bridgedTo: number | null;
  /** Originals that no sound line names, by SHA-256: each can be taken in again. */
  readonly photosWithoutLine: readonly string[];
  /** Photos that a sound line names and that are not there, by their names. */
  readonly linesWithoutPhoto: readonly string[];
}

/** A line is to follow the one before, or, where that cannot be read, what the line itself says of it. */
const faultBehind = (before: JournalLine | null, read: JournalLine | null): string | null =>
  faultOf(read, before ?? (read ? { seq: read.seq - 1, sha256: read.prev } : beforeFirst));

/** The lines behind the sound ones, each judged by its own hash and by the line that lies before it. */
const restOf = ({ bytes, lines, end }: Ledger): RawLine[] => {
  const rest: RawLine[] = [];
  let before = lines.at(-1) ?? null;
  for (let [from, line] = [end, lines.length + 1]; from < bytes.length; line++) {
    const to = bytes.indexOf(0x0a, from);
    const read = asLine(bytes.toString("utf8", from, to < 0 ? undefined : to));
    rest.push({ line, read, fault: to < 0 ? "has no end" : faultBehind(before, read) });
    before = read;
    from = to < 0 ? bytes.length : to + 1;
  }
  return rest;
};

/** A snapshot made of a line behind the damage, and the lines that follow from it. */
export interface Bridge {
  readonly snapshot: Snapshot;
  readonly lines: readonly JournalLine[];
}

/** What the damaged lines did stands in a snapshot that was made after them, if there is one. */
export const bridgeOver = async (ledger: Ledger): Promise<Bridge | null> => {
  const snapshot = (await openSnapshots(join(ledger.folder, "snapshots"), nodeDisk)).data;
  if (ledger.damage === null || !snapshot || snapshot.seq <= ledger.lines.length) return null;
  const lines: JournalLine[] = [];
  for (const { read } of restOf(ledger)) if (read && faultOf(read, lines.at(-1) ?? snapshot) === null) lines.push(read);
  return { snapshot, lines };
};

/** Looks at a delivery's folder and changes nothing. */
export const findFaults = async (id: string, dataFolder: string): Promise<Findings> => {
  const ledger = await readLedger(id, folderOf(dataFolder, id));
  const { lines, damage, document } = ledger;
  const files = new Set(await readdir(join(ledger.folder, "photos"), { recursive: true }).catch(() => []));
  const rest = damage ? restOf(ledger).map(({ line, read, fault }) => ({ line, what: read?.what ?? null, fault })) : [];
  const bridge = await bridgeOver(ledger);
  return {
    delivery: id,
    opens: damage === null,
    sound: lines.length,
    rest: damage && rest.length === 0 ? [{ line: damage.line, what: null, fault: damage.why }] : rest,
    bridgedTo: bridge && bridge.snapshot.seq + bridge.lines.length,
    photosWithoutLine: await photosWithoutLine(ledger),
    linesWithoutPhoto:
      document?.photos.filter(({ id: photo }) => !files.has(join(photo.slice(0, 2), photo))).map(({ name }) => name) ??
      [],
  };
};
