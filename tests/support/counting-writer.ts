import { setTimeout as wait } from "node:timers/promises";
import { openStore } from "../../server/store/store.ts";
import { testNow, writtenId } from "./written-delivery.ts";

/**
 * Run as a process of its own: opens the data folder named and counts up on line L1, printing each count once it is saved, with a
 * pause of the milliseconds given between two. Prints why a count is refused, and goes on trying.
 */
const store = await openStore(process.argv[2] ?? "", testNow);
const pauseMs = Number(process.argv[3] ?? 0);
const from = store.list().length === 0 ? 0 : (store.open(writtenId).read().lines[0]?.counted ?? 0);
for (let count = from + 1; ; count++) {
  const said = await store
    .open(writtenId)
    .change({ name: "writer", device: "process" }, `Counted ${count}`, (delivery) => {
      const line = delivery.lines[0];
      if (line) line.counted = count;
    })
    .then(
      () => String(count),
      (error: unknown) => `refused: ${String(error)}`,
    );
  process.stdout.write(`${said}\n`);
  if (pauseMs > 0) await wait(pauseMs);
}
