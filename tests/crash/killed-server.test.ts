import { setTimeout as wait } from "node:timers/promises";
import { afterAll, describe, expect, test } from "vitest";
import { builtMain, startBuilt } from "../support/built-server.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";
import { lostOrHalf, temporaryFiles } from "./check-kept.ts";
import { kills } from "./how-often.ts";
import {
  type Acked,
  type Activity,
  countOf,
  enterReading,
  nothingAcked,
  randomOf,
  sendPhoto,
  sendPhotoInParts,
  startLoad,
  writeDecided,
} from "./ledger-load.ts";

const activities: [name: string, kills: number, clients: readonly Activity[]][] = [
  ["photos are sent", kills.photos, [sendPhoto, sendPhotoInParts, sendPhotoInParts]],
  ["readings are entered", kills.readings, [enterReading, enterReading, enterReading]],
];
const longestStartMs = 2000;
const starts: number[] = [];
let acknowledged = 0;

/** One life: start, check that nothing is left half done, work until a change is acknowledged, and die within 80 ms of it. */
const live = async (
  { data, main, acked }: { data: string; main: string; acked: Acked },
  clients: readonly Activity[],
  delayMs: number,
  cookie: string | undefined,
): Promise<string> => {
  const server = await startBuilt(data, { main, cookie });
  starts.push(server.startMs);
  expect(await temporaryFiles(data)).toEqual([]);
  const load = startLoad(server, clients, acked);
  await load.firstAck;
  await wait(delayMs);
  server.kill("SIGKILL");
  await server.ended;
  await load.over;
  expect(load.odd).toEqual([]);
  return server.headers.cookie;
};

describe.each(activities)("the server killed at a random moment while %s", (name, times, clients) => {
  test(`A1: ${times} kills: nothing acknowledged is lost, no file is half, and it opens`, {
    timeout: 600_000,
  }, async () => {
    const data = await temporaryFolder();
    await writeDecided(data);
    const [main, acked, random] = [builtMain(), nothingAcked(), randomOf(name.length)];
    let cookie: string | undefined;
    for (let kill = 0; kill < times; kill++) {
      const before = countOf(acked);
      cookie = await live({ data, main, acked }, clients, random() * 80, cookie);
      expect(countOf(acked)).toBeGreaterThan(before);
      expect(await lostOrHalf(data, acked)).toEqual([]);
    }
    acknowledged += countOf(acked);
  });
});

afterAll(() => {
  const sorted = starts.toSorted((a, b) => a - b);
  const at = (part: number) => sorted[Math.floor(part * (sorted.length - 1))]?.toFixed(0);
  const late = sorted.filter((ms) => ms > longestStartMs).length;
  console.log(
    `${starts.length} starts: median ${at(0.5)} ms, slowest ${at(1)} ms, ${late} over 2 s; ${acknowledged} acknowledged`,
  );
  expect(sorted.filter((ms) => ms > 3 * longestStartMs)).toEqual([]);
});
