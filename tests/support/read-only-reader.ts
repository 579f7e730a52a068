import { openStore } from "../../server/store/store.ts";
import { testNow, writtenId } from "./written-delivery.ts";

/** Run as a process of its own without rights in the data folder named: prints what it reads, and what becomes of a change. */
process.setgid?.(65_534);
process.setuid?.(65_534);
const store = await openStore(process.argv[2] ?? "", testNow);
const delivery = store.open(writtenId);
const answer = await delivery
  .change({ name: "reader", device: "process" }, "x", (draft) => {
    draft.job.site = "elsewhere";
  })
  .then(
    () => 200,
    (error: { status?: number }) => error.status ?? 500,
  );
const { readOnly } = store.health();
console.log(JSON.stringify({ readOnly, counted: delivery.read().lines[0]?.counted, answer }));
await store.close();
