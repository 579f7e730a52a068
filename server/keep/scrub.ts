import { setTimeout as wait } from "node:timers/promises";
import type { DeliveryStore, Store } from "../site.ts";

/** How slowly all originals are read again, ms. */
export interface ScrubPace {
  /** After the start, so that it delays nobody. */
  readonly first: number;
  /** At least so long between two photos, and nine times as long as the last one took: a tenth of one disk and one core. */
  readonly between: number;
  /** From the last photo until all are read anew. */
  readonly rest: number;
}

const usualPace: ScrubPace = { first: 10_000, between: 50, rest: 3_600_000 };

/** Files looked for in one go; it takes a millisecond. */
const atOnce = 100;

const idsOf = (delivery: DeliveryStore): string[] => delivery.read().photos.map(({ id }) => id);

/**
 * Compares all originals with their hashes while the program runs, one after the other and slowly, so that a photo that was
 * damaged is known to be before somebody relies on it. Those that are gone are found first.
 */
export const openScrub = (store: Store, pace: ScrubPace = usualPace): { close(): void } => {
  const end = new AbortController();
  const pause = (ms: number) => wait(ms, undefined, { signal: end.signal, ref: false });

  const lookForMissing = async (delivery: DeliveryStore): Promise<void> => {
    for (const [index, id] of idsOf(delivery).entries()) {
      if (!delivery.photos.has(id)) await delivery.photos.check(id);
      if (index % atOnce === 0) await pause(1);
    }
  };

  const readAll = async (delivery: DeliveryStore): Promise<void> => {
    for (const id of idsOf(delivery)) {
      const began = performance.now();
      await delivery.photos.check(id);
      await pause(Math.max(pace.between, 9 * (performance.now() - began)));
    }
  };

  const scrub = async (): Promise<void> => {
    await pause(pace.first);
    for (;;) {
      for (const id of store.list()) await lookForMissing(store.open(id));
      for (const id of store.list()) await readAll(store.open(id));
      await pause(pace.rest);
    }
  };

  scrub().catch(() => undefined); // ended by close
  return { close: () => end.abort() };
};
