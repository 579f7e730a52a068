import { mkdir, readFile, rename, rm } from "node:fs/promises";
import { join } from "node:path";
import { Refusal } from "../problem.ts";
import { flushFolder } from "../store/disk.ts";
import { lockFolder } from "../store/folder-lock.ts";
import { type BackedUp, backupList, headOf, listName } from "./back-up.ts";
import { copyFolder, flushTree, fullDisk } from "./copy-files.ts";
import { type LookedOver, lookOver } from "./look-over.ts";
import { deliveriesIn, folderOf, readLedger } from "./read-ledger.ts";

const readList = async (from: string): Promise<readonly BackedUp[]> => {
  try {
    return backupList.parse(JSON.parse(await readFile(join(from, listName), "utf8"))).deliveries;
  } catch {
    throw new Refusal(`${from} is no backup: it has no ${listName} that can be read.`);
  }
};

/** A delivery of the backup is taken only with its whole journal, as it was when the backup was made. */
const refuseDamaged = async (from: string, { delivery, lines, head }: BackedUp): Promise<void> => {
  const ledger = await readLedger(delivery, folderOf(from, delivery));
  if (ledger.damage)
    throw new Refusal(
      `Delivery ${delivery} is damaged in this backup: its journal's line ${ledger.damage.line} ${ledger.damage.why}. Nothing was restored.`,
    );
  if (headOf(ledger).seq !== lines || headOf(ledger).sha256 !== head)
    throw new Refusal(
      `Delivery ${delivery} is not as it was backed up: line ${lines} of its journal is another. Nothing was restored.`,
    );
};

/** Copies a delivery under a name that no reader looks at, looks it over, and only then gives it its own. */
const bringBack = async (delivery: string, from: string, dataFolder: string): Promise<LookedOver> => {
  const making = folderOf(dataFolder, `.making-${delivery}`);
  try {
    await rm(making, { recursive: true, force: true }); // left by one that was cut off
    await copyFolder(folderOf(from, delivery), making);
    await flushTree(making);
    const found = { ...(await lookOver(delivery, making)), delivery };
    await rename(making, folderOf(dataFolder, delivery));
    await flushFolder(join(dataFolder, "deliveries"));
    return found;
  } catch (error) {
    await rm(making, { recursive: true, force: true });
    throw fullDisk(error, folderOf(dataFolder, delivery));
  }
};

/** What was restored, and what a look over it found. */
export interface Restored {
  readonly deliveries: readonly BackedUp[];
  readonly found: readonly LookedOver[];
}

/**
 * Brings deliveries of a backup into a data folder that no server works in. All are checked before anything is written, and again
 * as written; one that is there already is refused. What is measured is measured anew.
 */
export const restore = async (from: string, only: string | undefined, dataFolder: string): Promise<Restored> => {
  const all = await readList(from);
  const wanted = all.filter(({ delivery }) => only === undefined || delivery === only);
  if (wanted.length === 0) throw new Refusal(`There is no delivery ${only ?? "at all"} in this backup.`);
  for (const one of wanted) await refuseDamaged(from, one);
  await mkdir(join(dataFolder, "deliveries"), { recursive: true });
  const lock = await lockFolder(dataFolder);
  try {
    const there = await deliveriesIn(dataFolder);
    const taken = wanted.find(({ delivery }) => there.includes(delivery));
    if (taken)
      throw new Refusal(
        `Delivery ${taken.delivery} is in ${dataFolder} already and is not written over. Restore into another folder, or move it away first.`,
      );
    const found: LookedOver[] = [];
    for (const { delivery } of wanted) found.push(await bringBack(delivery, from, dataFolder));
    return { deliveries: wanted, found };
  } finally {
    await lock.release();
  }
};
