import { mkdir, open, readdir, rename, rm } from "node:fs/promises";
import { join } from "node:path";
import type { Delivery } from "../contract/delivery.ts";
import { deliveryDocument } from "../contract/delivery.ts";
import type { Actor } from "../contract/ids.ts";
import { Refusal } from "../problem.ts";
import type { Store } from "../site.ts";
import { journalName, type OpenDelivery, openDelivery } from "./delivery-store.ts";
import { flushFolder } from "./disk.ts";
import { lockFolder } from "./folder-lock.ts";
import { beforeFirst, sealLine, writeLine } from "./journal-line.ts";
import { oneAtATime } from "./one-at-a-time.ts";

/** A store on disk. `damaged` names the deliveries that could not be opened, each with the reason. */
export interface OpenStore extends Store {
  readonly damaged: ReadonlyMap<string, string>;
}

const isDelivery = /^[a-z0-9]{3,40}$/;
const beingMade = ".making-";

/** Writes a folder with the first line of a journal under a name that no reader looks at, then gives it its name. */
const makeFolder = async (folder: string, document: Delivery, actor: Actor, now: () => string): Promise<void> => {
  const making = join(folder, `${beingMade}${document.id}`);
  await mkdir(making);
  const line = sealLine(beforeFirst, {
    at: now(),
    actor: actor.name,
    device: actor.device,
    what: `Delivery ${document.job.noteNumber} of ${document.job.supplier}`,
    patches: [{ op: "replace", path: [], value: document }],
    inverse: [],
  });
  const handle = await open(join(making, journalName), "wx");
  try {
    await handle.writeFile(writeLine(line));
    await handle.sync();
  } finally {
    await handle.close();
  }
  await flushFolder(making);
  await rename(making, join(folder, document.id));
  await flushFolder(folder);
};

/**
 * Opens the data folder, which it then holds alone. A delivery that is damaged is named and left as it is;
 * the others are served.
 */
export const openStore = async (dataFolder: string, now: () => string): Promise<OpenStore> => {
  const folder = join(dataFolder, "deliveries");
  await mkdir(folder, { recursive: true });
  const lock = await lockFolder(dataFolder);
  const deliveries = new Map<string, OpenDelivery>();
  const damaged = new Map<string, string>();
  const names = await readdir(folder);
  for (const name of names.filter((one) => one.startsWith(beingMade)))
    await rm(join(folder, name), { recursive: true }); // cut off before anybody was told of it
  const making = oneAtATime();
  for (const id of names.filter((name) => isDelivery.test(name)).sort()) {
    try {
      deliveries.set(id, await openDelivery(id, join(folder, id), now));
    } catch (error) {
      damaged.set(id, error instanceof Error ? error.message : String(error));
    }
  }

  return {
    damaged,
    list: () => [...deliveries.keys()],
    open: (id) => {
      const delivery = deliveries.get(id);
      if (delivery) return delivery;
      const why = damaged.get(id);
      throw why
        ? new Refusal(`This delivery is damaged and was left as it is: ${why}.`, 503)
        : new Refusal("There is no such delivery.", 404);
    },
    create: (actor, given) =>
      making.run(async () => {
        const document = deliveryDocument.parse(given);
        if (deliveries.has(document.id) || damaged.has(document.id))
          throw new Refusal(`There is a delivery named ${document.id} already.`);
        await makeFolder(folder, document, actor, now);
        const delivery = await openDelivery(document.id, join(folder, document.id), now);
        deliveries.set(document.id, delivery);
        return delivery;
      }),
    close: async () => {
      for (const delivery of deliveries.values()) await delivery.close();
      await lock.release();
    },
  };
};
