import { readFile } from "node:fs/promises";
import { monitorEventLoopDelay } from "node:perf_hooks";
import { setTimeout as wait } from "node:timers/promises";
import { openStore } from "../../server/store/store.ts";
import { largeCode, writeLargeLedger } from "../support/large-ledger.ts";
import { by } from "../support/small-delivery.ts";
import { writtenId } from "../support/written-delivery.ts";

/** A ledger of 5,000 leaves and 20,000 photos: opening, an edit, what it writes, memory, stalls of the event loop. */
const edits = 400;
const folder = process.argv[2];
if (!folder) throw new Error("name a folder to write in; what is in it is removed");
const now = () => new Date().toISOString();
await writeLargeLedger(folder);

/** Milliseconds by the clock and of the processor. */
const timed = async <T>(what: string, task: () => Promise<T> | T): Promise<T> => {
  const [from, used] = [performance.now(), process.cpuUsage()];
  const value = await task();
  const { user, system } = process.cpuUsage(used);
  console.log(
    `${what}: ${Math.round(performance.now() - from)} ms, ${Math.round((user + system) / 1000)} ms of processor`,
  );
  return value;
};

const bytesWritten = async (): Promise<number> =>
  Number(/\nwrite_bytes: (\d+)/.exec(await readFile("/proc/self/io", "utf8"))?.[1]);

await (await timed("opening without a snapshot", () => openStore(folder, now))).close();
const store = await timed("opening with a snapshot", () => openStore(folder, now));
const delivery = store.open(writtenId);
const stalls = monitorEventLoopDelay({ resolution: 1 });
stalls.enable();
const before = await bytesWritten();
const times: number[] = [];
for (let edit = 0; edit < edits; edit++) {
  const from = performance.now();
  await delivery.change(by, "Weighed", (draft) => {
    const weighed = draft.leaves.find((one) => one.code === largeCode(4321));
    if (weighed) weighed.massKg = 30 + edit;
  });
  times.push(performance.now() - from);
}
await wait(500);
times.sort((one, other) => one - other);
const at = (part: number): string => `${times[Math.floor(part * (edits - 1))]?.toFixed(1)} ms`;
console.log(`an edit: median ${at(0.5)}, p99 ${at(0.99)}, most ${at(1)}`);
console.log(`an edit writes ${((await bytesWritten()) - before) / edits} bytes to the disk, snapshots included`);
console.log(
  `longest stall ${Math.round(stalls.max / 1e6)} ms; memory ${Math.round(process.memoryUsage().rss / 1e6)} MB`,
);
await timed("history", () => delivery.history());
await timed("taking back", () => delivery.undo(by, delivery.head().seq));
await timed("a snapshot at the end", () => store.close());
