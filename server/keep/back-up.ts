import { mkdir, readdir, rename, rm } from "node:fs/promises";
import { join } from "node:path";
import * as z from "zod";
import type { Delivery } from "../contract/delivery.ts";
import { deliveryId, instant, sha256 } from "../contract/ids.ts";
import { Refusal } from "../problem.ts";
import type { Head } from "../site.ts";
import { journalName } from "../store/delivery-store.ts";
import { flushFolder, writeDurably } from "../store/disk.ts";
import { beforeFirst } from "../store/journal-line.ts";
import { photoPath } from "../store/photo-files.ts";
import { copyDurably, copyFolder, eightAtATime, flushTree, fullDisk } from "./copy-files.ts";
import { type LookedOver, lookOver } from "./look-over.ts";
import { folderOf, type Ledger, readLedger } from "./read-ledger.ts";

/** The file of a backup that tells what it holds: by the last line of each journal a backup cut short is known. */
export const listName = "backup.json";

const backedUp = z.strictObject({
  delivery: deliveryId,
  name: z.string(),
  lines: z.number().int(),
  /** SHA-256 of the journal's last line. */
  head: sha256,
  photos: z.number().int(),
  records: z.number().int(),
});
export type BackedUp = z.infer<typeof backedUp>;

export const backupList = z.strictObject({ version: z.literal(1), madeAt: instant, deliveries: z.array(backedUp) });
export type BackupList = z.infer<typeof backupList>;

/** The last of a ledger's sound lines. */
export const headOf = ({ lines }: Ledger): Head => lines.at(-1) ?? beforeFirst;

const whyNot = ({ id, damage }: Ledger): string =>
  `not backed up: line ${damage?.line} of its journal ${damage?.why}. See what can be done with: leafledger repair ${id}`;

/**
 * Copies one delivery into a folder that is laid out as a data folder is. The journal is read first, then the photos and records
 * that it names are copied: what a server adds meanwhile is left for the next backup, and nothing named is left out.
 */
const copyDelivery = async (ledger: Ledger, document: Delivery, to: string): Promise<BackedUp> => {
  const { id, folder, bytes, end } = ledger;
  const making = folderOf(to, `.making-${id}`);
  await mkdir(making, { recursive: true });
  await writeDurably(join(making, journalName), bytes.subarray(0, end));
  const [here, there] = [photoPath(join(folder, "photos")), photoPath(join(making, "photos"))];
  await eightAtATime(document.photos, (photo) => copyDurably(here(photo.id), there(photo.id)));
  await copyFolder(join(folder, "records"), join(making, "records"));
  await flushTree(making);
  await rename(making, folderOf(to, id));
  await flushFolder(join(to, "deliveries"));
  const { photos, records, job } = document;
  const { seq, sha256: head } = headOf(ledger);
  return { delivery: id, name: job.name, lines: seq, head, photos: photos.length, records: records.length };
};

const refuseUsed = async (to: string): Promise<void> => {
  const there = await readdir(to).catch(() => []);
  if (there.length > 0) throw new Refusal(`${to} is not empty. Name a new folder: a backup is never written over.`);
};

/** A backup as made: what it holds, and what a look over all that was written found, or why a delivery is not in it. */
export interface Backup {
  readonly list: BackupList;
  readonly found: readonly LookedOver[];
}

/**
 * Backs deliveries of a data folder up into a new folder and compares all that was written with its hashes. A server may go on
 * working meanwhile. A photo that is missing or damaged already is so in the backup too, and is told; a delivery with a damaged
 * journal is left out, and told.
 */
export const backUp = async (
  dataFolder: string,
  ids: readonly string[],
  to: string,
  madeAt: string,
): Promise<Backup> => {
  await refuseUsed(to);
  const deliveries: BackedUp[] = [];
  const found: LookedOver[] = [];
  try {
    await mkdir(join(to, "deliveries"), { recursive: true });
    for (const id of ids) {
      const ledger = await readLedger(id, folderOf(dataFolder, id));
      const { document, damage } = ledger;
      if (document && !damage) {
        deliveries.push(await copyDelivery(ledger, document, to));
        found.push(await lookOver(id, folderOf(to, id)));
      } else found.push({ delivery: id, checked: 0, faults: [whyNot(ledger)] });
    }
    const list: BackupList = { version: 1, madeAt, deliveries };
    await writeDurably(join(to, listName), `${JSON.stringify(list, null, 2)}\n`);
    return { list, found };
  } catch (error) {
    await rm(join(to, "deliveries"), { recursive: true, force: true }); // a part of a backup must not be taken for one
    throw fullDisk(error, to);
  }
};
