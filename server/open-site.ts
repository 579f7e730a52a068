import { availableParallelism } from "node:os";
import { ulid } from "ulid";
import { openScrub } from "./keep/scrub.ts";
import { limits } from "./limits.ts";
import type { Allotments, Site } from "./site.ts";
import { openStore } from "./store/store.ts";
import { openMeasuring } from "./use-cases/measure-photos.ts";
import { type FileRead, readFileText } from "./use-cases/read-files.ts";
import { openDarkroom } from "./workers/darkroom.ts";
import { openPlanning } from "./workers/planning.ts";
import { openProcessPool } from "./workers/process-pool.ts";

/** A site that is open, and how to close it: the folder is freed and the child processes end. */
export interface OpenSite {
  readonly site: Site;
  /** Deliveries that could not be opened, each with the reason; their files are left as they are. */
  readonly damaged: ReadonlyMap<string, string>;
  close(): Promise<void>;
}

/** One decoding process on a small machine, two from four cores on; a second one serves pictures for the screens. */
const measuringLanes = availableParallelism() >= 4 ? 2 : 1;

/** Whoever waits for an answer or a picture goes before what is measured in the background. */
const measuringGivesWay = 5;

/** Letters of a CSV file that is read at once, in some 10 ms: a few hundred rows. */
const smallFile = 50_000;

/** Opens the data folder with everything that works on it. Refused when another server holds the folder. */
export const openSite = async (dataFolder: string): Promise<OpenSite> => {
  const now = () => new Date().toISOString();
  const store = await openStore(dataFolder, now);
  const measuringPool = openProcessPool(measuringLanes, measuringGivesWay);
  const picturePool = openProcessPool(1);
  const questionPool = openProcessPool(1);
  const planning = openPlanning();
  const darkroom = openDarkroom(picturePool);
  const measuring = openMeasuring(store, measuringPool, now);
  for (const id of store.list()) measuring.wake(id);
  const scrub = openScrub(store);
  const sweep = setInterval(() => {
    for (const id of store.list()) void store.open(id).uploads.sweep();
  }, limits.sweptMs);
  sweep.unref();
  return {
    site: {
      store,
      darkroom,
      measuring,
      planning,
      dealByHand: async (problem) => (await questionPool.run({ kind: "by-hand", problem })) as Omit<Allotments, "plan">,
      askAllotment: async (question) => (await questionPool.run({ kind: "question", question })) as never,
      readFile: async (reading) =>
        reading.csv.length < smallFile
          ? readFileText(reading)
          : ((await questionPool.run({ kind: "read-file", reading })) as FileRead),
      print: async (printing) => Buffer.from((await picturePool.run({ kind: "print", printing }, true)) as Uint8Array),
      now,
      newId: () => ulid(),
    },
    damaged: store.damaged,
    close: async () => {
      clearInterval(sweep);
      scrub.close();
      await measuringPool.close();
      await questionPool.close();
      planning.close();
      await darkroom.close();
      await store.close();
    },
  };
};
