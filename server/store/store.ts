import { constants } from "node:fs/promises";
import { dirname, join } from "node:path";
import type { Delivery } from "../contract/delivery.ts";
import { deliveryDocument } from "../contract/delivery.ts";
import type { Actor } from "../contract/ids.ts";
import { Refusal } from "../problem.ts";
import type { Store } from "../site.ts";
import { clockWatch } from "./clock-watch.ts";
import { type Ground, journalName, type OpenDelivery, openDelivery } from "./delivery-store.ts";
import { type Disk, discard, flushFolder, isReadOnly, nodeDisk } from "./disk.ts";
import { diskSpace, type RoomLimits, roomLimits } from "./disk-space.ts";
import { type FolderLock, lockFolder } from "./folder-lock.ts";
import { beforeFirst, sealLine, writeLine } from "./journal-line.ts";
import { oneAtATime } from "./one-at-a-time.ts";
import { folderIsReadOnly, storeHealth } from "./store-health.ts";

/** A store on disk. `damaged` names the deliveries that could not be opened, each with the reason. */
export interface OpenStore extends Store {
  readonly damaged: ReadonlyMap<string, string>;
}

const isDelivery = /^[a-z0-9]{3,40}$/;
const beingMade = ".making-";

/** What tests put in place of the real thing. */
export interface StoreSettings {
  readonly disk: Disk;
  readonly room: RoomLimits;
  /** Milliseconds that no setting of the clock changes. */
  readonly elapsed: () => number;
}

const real: StoreSettings = { disk: nodeDisk, room: roomLimits, elapsed: () => performance.now() };

/** Writes a folder with the first line of a journal under a name that no reader looks at, then gives it its name. */
const makeFolder = async (folder: string, document: Delivery, actor: Actor, { disk, now }: Ground): Promise<void> => {
  const making = join(folder, `${beingMade}${document.id}`);
  await disk.rm(making, { recursive: true, force: true }); // left by one that failed
  await disk.mkdir(making);
  const line = sealLine(beforeFirst, {
    at: now(),
    actor: actor.name,
    device: actor.device,
    what: `Delivery ${document.job.noteNumber} of ${document.job.supplier}`,
    patches: [{ op: "replace", path: [], value: document }],
    inverse: [],
  });
  const handle = await disk.open(join(making, journalName), "wx");
  try {
    await handle.writeFile(writeLine(line));
    await handle.sync();
  } finally {
    await handle.close();
  }
  await flushFolder(making, disk);
  await disk.rename(making, join(folder, document.id));
  await flushFolder(folder, disk);
};

const nobodysLock: FolderLock = { whyNotMine: async () => null, release: async () => undefined };

/** The names in the folder of deliveries, which is made where it is missing; whether it may be written. */
const lookInto = async (folder: string, disk: Disk): Promise<{ names: string[]; writable: boolean }> => {
  try {
    await disk.mkdir(folder, { recursive: true });
    await disk.access(dirname(folder), constants.W_OK);
    await disk.access(folder, constants.W_OK);
    return { names: await disk.readdir(folder), writable: true };
  } catch (error) {
    if (!isReadOnly(error)) throw error;
    return { names: await disk.readdir(folder), writable: false };
  }
};

/**
 * Opens the data folder, which it then holds alone. A delivery that is damaged is named and left as it is; the others are served.
 * A folder that may only be read is opened for reading. No lock can be put in it then, and none is needed: this process
 * writes nothing, and shows what was saved when it was opened.
 */
export const openStore = async (
  dataFolder: string,
  now: () => string,
  settings: Partial<StoreSettings> = {},
): Promise<OpenStore> => {
  const { disk, room, elapsed } = { ...real, ...settings };
  const folder = join(dataFolder, "deliveries");
  const { names, writable } = await lookInto(folder, disk);
  const lock = writable ? await lockFolder(dataFolder) : nobodysLock;
  const health = storeHealth(diskSpace(folder, room), clockWatch(now, elapsed), lock.whyNotMine);
  const ground: Ground = { disk, health, now };
  const deliveries = new Map<string, OpenDelivery>();
  const damaged = new Map<string, string>();
  if (!writable) health.onlyRead(folderIsReadOnly);
  else {
    for (const name of names) if (name.startsWith(beingMade)) await discard(join(folder, name), disk); // nobody was told of it
    for (const name of await disk.readdir(dataFolder).catch(() => []))
      if (name.endsWith(".tmp")) await discard(join(dataFolder, name), disk);
  }
  const making = oneAtATime();
  for (const id of names.filter((name) => isDelivery.test(name)).sort()) {
    try {
      deliveries.set(id, await openDelivery(id, join(folder, id), ground));
    } catch (error) {
      damaged.set(id, error instanceof Error ? error.message : String(error));
    }
  }

  return {
    damaged,
    health: health.told,
    check: health.check,
    list: () => [...deliveries.keys()],
    open: (id) => {
      const delivery = deliveries.get(id);
      if (delivery) return delivery;
      const why = damaged.get(id);
      throw why
        ? new Refusal(
            `This delivery is damaged and was left as it is: ${why}. On the laptop, the command leafledger repair ${id} says what can be done.`,
            503,
          )
        : new Refusal("There is no such delivery.", 404);
    },
    create: (actor, given) =>
      making.run(() =>
        health.writing("file", async () => {
          const document = deliveryDocument.parse(given);
          if (deliveries.has(document.id) || damaged.has(document.id))
            throw new Refusal(`There is a delivery named ${document.id} already.`);
          await makeFolder(folder, document, actor, ground);
          const delivery = await openDelivery(document.id, join(folder, document.id), ground);
          deliveries.set(document.id, delivery);
          return delivery;
        }),
      ),
    close: async () => {
      try {
        for (const delivery of deliveries.values()) await delivery.close();
      } finally {
        await lock.release();
      }
    },
  };
};
