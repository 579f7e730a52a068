import { openStore } from "../../server/store/store.ts";
import { testNow, writtenId } from "./written-delivery.ts";

/** Run as a process of its own: opens the data folder named and counts up on line L1, printing each count once it is saved. */
const store = await openStore(process.argv[2] ?? "", testNow);
const from = store.list().length === 0 ? 0 : (store.open(writtenId).read().lines[0]?.counted ?? 0);
for (let count = from + 1; ; count++) {
  await store.open(writtenId).change({ name: "writer", device: "process" }, `Counted ${count}`, (delivery) => {
    const line = delivery.lines[0];
    if (line) line.counted = count;
  });
  process.stdout.write(`${count}\n`);
}
