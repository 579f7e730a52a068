import { join } from "node:path";
import { type OpenStore, openStore } from "../../server/store/store.ts";
import { newDelivery } from "../../server/use-cases/create-delivery.ts";
import { by, smallDelivery } from "./small-delivery.ts";

export const writtenId = "tarnmill";
export const testNow = (): string => "2026-03-03T12:00:00+00:00";

/** The journal of the written delivery in a data folder. */
export const journalPath = (folder: string): string => join(folder, "deliveries", writtenId, "journal.jsonl");

/** Counts up on line L1: each count is one journal line. */
const countTo = async (store: OpenStore, last: number): Promise<void> => {
  for (let count = 1; count <= last; count++)
    await store.open(writtenId).change(by, `Counted ${count}`, (delivery) => {
      const line = delivery.lines[0];
      if (line) line.counted = count;
    });
};

/** A data folder with one delivery and some counts in its journal, closed again. */
export const writeDelivery = async (
  folder: string,
  counts: number,
  settings: Parameters<typeof openStore>[2] = {},
): Promise<void> => {
  const store = await openStore(folder, testNow, settings);
  await store.create(by, newDelivery(writtenId, smallDelivery));
  await countTo(store, counts);
  await store.close();
};
