import { join } from "node:path";
import { setImmediate } from "node:timers/promises";
import { type Adapter, Low } from "lowdb";
import { sha256Of } from "../records/canonical.ts";
import type { Head } from "../site.ts";
import { type Disk, discard, hasCode, writeDurably } from "./disk.ts";

/** The document as the journal's line `seq` left it, so that opening need not start at line 1. */
export interface Snapshot extends Head {
  readonly document: unknown;
}

const kept = 3;
const named = /^snapshot-\d{9}\.json$/;

const newestFirst = async (folder: string, disk: Disk): Promise<string[]> => {
  try {
    return (await disk.readdir(folder)).filter((name) => named.test(name)).sort((a, b) => b.localeCompare(a));
  } catch (error) {
    if (hasCode(error, "ENOENT")) return []; // a copy of a folder may come without its empty folders
    throw error;
  }
};

/** A file is the SHA-256 of the rest, a line feed, and the rest; null when it is damaged. */
const readSnapshot = async (path: string, disk: Disk): Promise<Snapshot | null> => {
  const text = await disk.readFile(path, "utf8");
  const cut = text.indexOf("\n");
  const body = text.slice(cut + 1);
  return cut === 64 && sha256Of(body) === text.slice(0, cut) ? (JSON.parse(body) as Snapshot) : null;
};

const partsAtOnce = 500;

/** A snapshot as JSON, some hundred parts of its lists at a time, so that a large one holds up no answer. */
const inPieces = async ({ document, ...head }: Snapshot): Promise<string> => {
  const fields: string[] = [];
  for (const [name, value] of Object.entries(document as object)) {
    if (value === undefined) continue;
    if (!Array.isArray(value)) {
      fields.push(`${JSON.stringify(name)}:${JSON.stringify(value)}`);
      continue;
    }
    const parts: string[] = [];
    for (let from = 0; from < value.length; from += partsAtOnce) {
      parts.push(JSON.stringify(value.slice(from, from + partsAtOnce)).slice(1, -1));
      await setImmediate();
    }
    fields.push(`${JSON.stringify(name)}:[${parts.join(",")}]`);
  }
  return `${JSON.stringify(head).slice(0, -1)},"document":{${fields.join(",")}}}`;
};

/**
 * The adapter lowdb writes through. lowdb's own never flushes, so a power cut could empty the file; this one writes
 * each snapshot as a new durable file, keeps the last three and reads the newest that is whole.
 */
const snapshotFiles = (folder: string, disk: Disk): Adapter<Snapshot | null> => ({
  read: async () => {
    for (const name of await newestFirst(folder, disk)) {
      const snapshot = await readSnapshot(join(folder, name), disk);
      if (snapshot) return snapshot;
    }
    return null;
  },
  write: async (snapshot) => {
    if (!snapshot) return;
    const body = await inPieces(snapshot);
    const name = `snapshot-${String(snapshot.seq).padStart(9, "0")}.json`;
    await writeDurably(join(folder, name), `${sha256Of(body)}\n${body}`, 0o644, disk);
    for (const old of (await newestFirst(folder, disk)).slice(kept)) await discard(join(folder, old), disk);
  },
});

/** The snapshots of one delivery; `data` is null where there is none. */
export const openSnapshots = async (folder: string, disk: Disk): Promise<Low<Snapshot | null>> => {
  const snapshots = new Low<Snapshot | null>(snapshotFiles(folder, disk), null);
  await snapshots.read();
  return snapshots;
};
