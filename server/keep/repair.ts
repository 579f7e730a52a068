import { mkdir, readdir, rename } from "node:fs/promises";
import { join } from "node:path";
import type { Actor } from "../contract/ids.ts";
import { Refusal } from "../problem.ts";
import { journalName } from "../store/delivery-store.ts";
import { flushFolder, writeDurably } from "../store/disk.ts";
import { lockFolder } from "../store/folder-lock.ts";
import { asLine, beforeFirst, faultOf, sealLine, writeLine } from "../store/journal-line.ts";
import { photosWithoutLine } from "./look-over.ts";
import { documentOf, endOfLine, folderOf, type Ledger, readLedger } from "./read-ledger.ts";

/** One line of a journal as it lies there: what it says it did, and what is wrong with it. */
export interface LineFound {
  readonly line: number;
  readonly what: string | null;
  readonly fault: string | null;
}

/** What is wrong with a delivery, and what a repair would do. */
export interface Findings {
  readonly delivery: string;
  readonly opens: boolean;
  /** How many lines are sound from the first on: the most that can be kept. */
  readonly sound: number;
  /** The first line that is not, and all after it. */
  readonly rest: readonly LineFound[];
  /** Originals that no sound line names, by SHA-256: each can be taken in again. */
  readonly photosWithoutLine: readonly string[];
  /** Photos that a sound line names and that are not there, by their names. */
  readonly linesWithoutPhoto: readonly string[];
}

/** The lines from one number on, each judged by its own hash and by the line that lies before it. */
const linesFrom = (bytes: Buffer, first: number): LineFound[] => {
  const found: LineFound[] = [];
  let from = endOfLine(bytes, first - 1);
  let before = first === 1 ? null : asLine(bytes.toString("utf8", endOfLine(bytes, first - 2), from));
  for (let line = first; from < bytes.length; line++) {
    const to = bytes.indexOf(0x0a, from);
    const read = asLine(bytes.toString("utf8", from, to < 0 ? undefined : to));
    const cut = to < 0 ? "has no end" : null;
    found.push({ line, what: read?.what ?? null, fault: cut ?? faultOf(read, before ?? beforeFirst) });
    before = read;
    if (to < 0) break;
    from = to + 1;
  }
  return found;
};

/** Looks at a delivery's folder and changes nothing. */
export const findFaults = async (id: string, dataFolder: string): Promise<Findings> => {
  const ledger = await readLedger(id, folderOf(dataFolder, id));
  const { lines, bytes, damage, document } = ledger;
  const files = new Set(await readdir(join(ledger.folder, "photos"), { recursive: true }).catch(() => []));
  const rest = damage ? linesFrom(bytes, damage.line) : [];
  return {
    delivery: id,
    opens: damage === null,
    sound: lines.length,
    rest: damage && rest.length === 0 ? [{ line: damage.line, what: null, fault: damage.why }] : rest,
    photosWithoutLine: await photosWithoutLine(ledger),
    linesWithoutPhoto:
      document?.photos.filter((photo) => !files.has(join(photo.id.slice(0, 2), photo.id))).map(({ name }) => name) ??
      [],
  };
};

const refuseCut = ({ id, lines, damage }: Ledger, after: number): void => {
  if (damage === null) throw new Refusal(`Delivery ${id} opens: nothing is cut off.`);
  if (after < 1 || after > lines.length)
    throw new Refusal(
      lines.length === 0
        ? `No line of delivery ${id} is sound: nothing can be opened from it. Restore it from a backup.`
        : `The journal of ${id} is sound up to line ${lines.length}: cut after a line from 1 to ${lines.length}.`,
    );
};

/** Moves snapshots and record files that the lines kept know nothing of, so that none is written over. */
const moveAside = async (folder: string, aside: string, records: number): Promise<string[]> => {
  const moved: string[] = [];
  const move = async (sub: string, isLater: (name: string) => boolean): Promise<void> => {
    const names = await readdir(join(folder, sub)).catch(() => []);
    for (const name of names.filter(isLater)) {
      await mkdir(join(aside, sub), { recursive: true });
      await rename(join(folder, sub, name), join(aside, sub, name));
      moved.push(join(sub, name));
    }
    if (names.length > 0) await flushFolder(join(folder, sub));
  };
  await move("snapshots", () => true); // the journal alone is enough
  await move("records", (name) => Number(/^record-(\d+)/.exec(name)?.[1] ?? 0) > records);
  return moved;
};

/** What a cut did. */
export interface Cut {
  readonly delivery: string;
  readonly kept: number;
  /** The folder that holds what was taken away, and the files in it. */
  readonly aside: string;
  readonly files: readonly string[];
}

/**
 * Cuts a damaged journal after a line that is sound. The whole journal as it was, snapshots, and the files of records that were
 * issued later are set aside in a folder of their own; nothing is deleted. A last line says what was done and by whom.
 */
export const cutAfter = async (id: string, dataFolder: string, after: number, by: Actor, at: string): Promise<Cut> => {
  const lock = await lockFolder(dataFolder);
  try {
    const folder = folderOf(dataFolder, id);
    const ledger = await readLedger(id, folder);
    refuseCut(ledger, after);
    const kept = ledger.bytes.subarray(0, endOfLine(ledger.bytes, after));
    const last = ledger.lines[after - 1] ?? beforeFirst;
    const records = documentOf(ledger.lines.slice(0, after)).records.length;
    const aside = join(folder, "set-aside", `after-line-${after}-${at.replace(/\D/g, "").slice(0, 14)}`);
    await mkdir(aside, { recursive: true });
    await writeDurably(join(aside, journalName), ledger.bytes);
    await flushFolder(join(folder, "set-aside"));
    await flushFolder(folder);
    const moved = await moveAside(folder, aside, records);
    const says = sealLine(last, {
      at,
      actor: by.name,
      device: by.device,
      what: `Repaired: what came after line ${after} was damaged and is set aside`,
      patches: [],
      inverse: [],
    });
    await writeDurably(join(folder, journalName), Buffer.concat([kept, Buffer.from(writeLine(says))]));
    return { delivery: id, kept: after, aside, files: [journalName, ...moved] };
  } finally {
    await lock.release();
  }
};
