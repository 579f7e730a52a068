import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { applyPatches, enablePatches } from "immer";
import type { Delivery } from "../contract/delivery.ts";
import { journalName } from "../store/delivery-store.ts";
import { hasCode } from "../store/disk.ts";
import { type JournalLine, readJournalText } from "../store/journal-line.ts";
import { migrate } from "../store/migrations.ts";

enablePatches();

/**
 * What a delivery's folder holds, as read without its lock and without writing anything: a server may go on working in it.
 * Bytes behind the last line feed are a line that is being written, or was cut off: nobody was told of it.
 */
export interface Ledger {
  readonly id: string;
  readonly folder: string;
  /** The journal file as read. */
  readonly bytes: Buffer;
  /** Its sound lines from the first on, and how many bytes they take. */
  readonly lines: readonly JournalLine[];
  readonly end: number;
  /** The first line that is not sound. */
  readonly damage: { readonly line: number; readonly why: string } | null;
  /** What the sound lines add up to; null where that is no delivery. */
  readonly document: Delivery | null;
}

const linefeed = 0x0a;

/** Where the first `lines` lines of a journal end. */
export const endOfLine = (bytes: Buffer, lines: number): number => {
  let end = 0;
  for (let line = 0; line < lines; line++) end = bytes.indexOf(linefeed, end) + 1;
  return end;
};

const readIfThere = async (path: string): Promise<Buffer> => {
  try {
    return await readFile(path);
  } catch (error) {
    if (hasCode(error, "ENOENT")) return Buffer.alloc(0);
    throw error;
  }
};

/** The number of the last line that a snapshot was made of: so many lines there must be. */
const lastSnapshot = async (folder: string): Promise<number> => {
  const names = await readdir(join(folder, "snapshots")).catch(() => []);
  return Math.max(0, ...names.map((name) => Number(/^snapshot-(\d{9})\.json$/.exec(name)?.[1] ?? 0)));
};

/** What lines from the first on add up to. Throws where that is no delivery. */
export const documentOf = (lines: readonly JournalLine[]): Delivery =>
  migrate(
    applyPatches(
      {},
      lines.flatMap(({ patches }) => [...patches]),
    ),
  ).document;

/** A whole line whose last byte is no line feed any more looks like one that was cut off, yet was told of. */
const lostItsEnd = (bytes: Buffer, end: number): boolean =>
  bytes.length > end + 1 &&
  readJournalText(Buffer.concat([bytes.subarray(0, -1), Buffer.from([linefeed])])).kind === "sound";

/** What is wrong behind the last line, where all lines are sound. */
const damageAtEnd = (bytes: Buffer, end: number, lines: number, once: number): Ledger["damage"] => {
  if (lostItsEnd(bytes, end)) return { line: lines + 1, why: "was changed after it was written: its end is lost" };
  return once > lines ? { line: lines + 1, why: `is missing, and all after it: line ${once} was once written` } : null;
};

/** Reads the folder of a delivery. */
export const readLedger = async (id: string, folder: string): Promise<Ledger> => {
  const once = await lastSnapshot(folder); // before the journal, which only grows
  const bytes = await readIfThere(join(folder, journalName));
  const text = readJournalText(bytes);
  const sound = text.kind === "sound" ? text : readJournalText(bytes.subarray(0, endOfLine(bytes, text.line - 1)));
  const lines = sound.kind === "sound" ? sound.lines : [];
  const read = { id, folder, bytes, lines, end: sound.kind === "sound" ? sound.bytes : 0 };
  const damage =
    text.kind === "damaged" ? { line: text.line, why: text.why } : damageAtEnd(bytes, text.bytes, lines.length, once);
  try {
    return { ...read, damage, document: documentOf(lines) };
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    return { ...read, damage: damage ?? { line: lines.length, why }, document: null };
  }
};

/** The deliveries in a data folder or in a backup, by id. */
export const deliveriesIn = async (dataFolder: string): Promise<string[]> => {
  const entries = await readdir(join(dataFolder, "deliveries"), { withFileTypes: true }).catch(() => []);
  return entries
    .filter((entry) => entry.isDirectory() && /^[a-z0-9]{3,40}$/.test(entry.name))
    .map(({ name }) => name)
    .sort();
};

export const folderOf = (dataFolder: string, id: string): string => join(dataFolder, "deliveries", id);
