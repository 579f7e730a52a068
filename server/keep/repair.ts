import { mkdir, readdir, rename } from "node:fs/promises";
import { join } from "node:path";
import type { Actor } from "../contract/ids.ts";
import { Refusal } from "../problem.ts";
import { journalName } from "../store/delivery-store.ts";
import { flushFolder, writeDurably } from "../store/disk.ts";
import { lockFolder } from "../store/folder-lock.ts";
import { type JournalLine, sealLine, writeLine } from "../store/journal-line.ts";
import { type Bridge, bridgeOver } from "./find-faults.ts";
import { documentOf, endOfLine, folderOf, type Ledger, readLedger } from "./read-ledger.ts";

/** What a repair did. */
export interface Repaired {
  readonly delivery: string;
  /** The line up to which everything is there again. */
  readonly upTo: number;
  /** The folder that holds what was taken away, and the files in it. */
  readonly aside: string;
  readonly files: readonly string[];
}

/** Moves snapshots and record files that the lines kept know nothing of, so that none is written over. */
const moveAside = async (folder: string, aside: string, records: number): Promise<string[]> => {
  const moved: string[] = [];
  const move = async (sub: string, isMoved: (name: string) => boolean): Promise<void> => {
    const names = await readdir(join(folder, sub)).catch(() => []);
    for (const name of names.filter(isMoved)) {
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

/** Sets the whole journal as it was aside, then puts another in its place: the first lines as they were, and lines sealed behind them. */
const replaceJournal = async (
  { folder, bytes, lines }: Ledger,
  keep: number,
  changes: readonly Parameters<typeof sealLine>[1][],
): Promise<Pick<Repaired, "aside" | "files">> => {
  const sealed: JournalLine[] = [];
  for (const change of changes) sealed.push(sealLine(sealed.at(-1) ?? lines[keep - 1]!, change));
  const { records } = documentOf([...lines.slice(0, keep), ...sealed]);
  const stamp = (sealed[0]?.at ?? "").replace(/\D/g, "").slice(0, 14);
  const aside = join(folder, "set-aside", `after-line-${keep}-${stamp}`);
  await mkdir(aside, { recursive: true });
  await writeDurably(join(aside, journalName), bytes);
  await flushFolder(join(folder, "set-aside"));
  await flushFolder(folder);
  const moved = await moveAside(folder, aside, records.length);
  const kept = bytes.subarray(0, endOfLine(bytes, keep));
  await writeDurably(join(folder, journalName), Buffer.concat([kept, Buffer.from(sealed.map(writeLine).join(""))]));
  return { aside, files: [journalName, ...moved] };
};

/** Holds the data folder while a damaged delivery is repaired. */
const repairing = async (
  id: string,
  dataFolder: string,
  repair: (ledger: Ledger) => Promise<Repaired>,
): Promise<Repaired> => {
  const lock = await lockFolder(dataFolder);
  try {
    const ledger = await readLedger(id, folderOf(dataFolder, id));
    if (ledger.damage === null) throw new Refusal(`Delivery ${id} opens: there is nothing to repair.`);
    if (ledger.lines.length === 0)
      throw new Refusal(`No line of delivery ${id} is sound: nothing can be opened from it. Restore it from a backup.`);
    return await repair(ledger);
  } finally {
    await lock.release();
  }
};

const says = (by: Actor, at: string, what: string, patches: JournalLine["patches"]) => ({
  at,
  actor: by.name,
  device: by.device,
  what,
  patches,
  inverse: [],
});

/**
 * Cuts a damaged journal after a line that is sound. The journal as it was, snapshots, and the files of records that were issued
 * later are set aside in a folder of their own; nothing is deleted. A last line says what was done and by whom.
 */
export const cutAfter = (id: string, dataFolder: string, after: number, by: Actor, at: string): Promise<Repaired> =>
  repairing(id, dataFolder, async (ledger) => {
    const { length } = ledger.lines;
    if (after < 1 || after > length)
      throw new Refusal(
        `The journal of ${id} is sound up to line ${length}: cut after ${length > 1 ? `a line from 1 to ${length}` : "line 1"}.`,
      );
    const what = `Repaired: what came after line ${after} was damaged and is set aside`;
    return { delivery: id, upTo: after, ...(await replaceJournal(ledger, after, [says(by, at, what, [])])) };
  });

const bridged = ({ snapshot, lines }: Bridge, sound: number, by: Actor, at: string) => {
  const what = `Repaired: lines ${sound + 1} to ${snapshot.seq} were damaged; what they did is taken from the snapshot of line ${snapshot.seq}`;
  const whole = says(by, at, what, [{ op: "replace", path: [], value: snapshot.document }]);
  const later = lines.map(({ at: then, actor, device, what: did, patches, inverse }) => {
    return { at: then, actor, device, what: did, patches, inverse };
  });
  return [whole, ...later];
};

/**
 * Bridges damaged lines by the snapshot that was made after them: one line takes their place and says so, those that follow are kept
 * and sealed anew behind it. The journal as it was is set aside.
 */
export const bridge = (id: string, dataFolder: string, by: Actor, at: string): Promise<Repaired> =>
  repairing(id, dataFolder, async (ledger) => {
    const over = await bridgeOver(ledger);
    const { length } = ledger.lines;
    if (!over) throw new Refusal(`No snapshot of ${id} was made after line ${length}: cut after it instead.`);
    const upTo = over.snapshot.seq + over.lines.length;
    return { delivery: id, upTo, ...(await replaceJournal(ledger, length, bridged(over, length, by, at))) };
  });
