import { setTimeout as wait } from "node:timers/promises";
import { expect, test } from "vitest";
import { builtMain, startBuilt } from "../support/built-server.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";
import { writtenId } from "../support/written-delivery.ts";
import { lostOrHalf } from "./check-kept.ts";
import { terminations } from "./how-often.ts";
import {
  countOf,
  enterReading,
  issueRecord,
  nothingAcked,
  randomOf,
  sendPhoto,
  sendPhotoInParts,
  startLoad,
  writeDecided,
} from "./ledger-load.ts";

const longestMs = 10_000;

test(`A14: ${terminations} times told to end while at work: it ends in order within 10 s, nothing is lost`, {
  timeout: 300_000,
}, async () => {
  const data = await temporaryFolder();
  await writeDecided(data);
  const [main, acked, random] = [builtMain(), nothingAcked(), randomOf(14)];
  let cookie: string | undefined;
  let slowest = 0;
  for (let time = 0; time < terminations; time++) {
    const server = await startBuilt(data, { main, cookie });
    cookie = server.headers.cookie;
    const load = startLoad(server, [sendPhoto, sendPhotoInParts, enterReading, issueRecord], acked);
    await load.firstAck;
    await wait(random() * 80);
    const told = performance.now();
    server.kill("SIGTERM");
    expect(await server.ended).toEqual({ code: 0, signal: null });
    slowest = Math.max(slowest, performance.now() - told);
    await load.over;
    expect(load.odd).toEqual([]);
    expect(await lostOrHalf(data, acked)).toEqual([]);
  }
  console.log(`${terminations} times told to end: slowest ${slowest.toFixed(0)} ms; ${countOf(acked)} acknowledged`);
  expect(slowest).toBeLessThan(longestMs);
});

test("A14: a page that listens for events does not hold the end up", { timeout: 60_000 }, async () => {
  const data = await temporaryFolder();
  await writeDecided(data);
  const server = await startBuilt(data);
  const events = await fetch(`${server.address}/api/v1/deliveries/${writtenId}/events`, { headers: server.headers });
  expect(events.status).toBe(200);
  const told = performance.now();
  server.kill("SIGTERM");
  expect(await server.ended).toEqual({ code: 0, signal: null });
  expect(performance.now() - told).toBeLessThan(4000); // requests under way are given 5 s
  expect(await events.text()).toContain("event: progress");
});
