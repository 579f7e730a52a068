import { setTimeout as wait } from "node:timers/promises";
import { ulid } from "ulid";
import { expect, test } from "vitest";
import { type Answer, type BuiltServer, builtMain, startBuilt } from "../support/built-server.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";
import { writtenId } from "../support/written-delivery.ts";
import { lostOrHalf, temporaryFiles } from "./check-kept.ts";
import { kills } from "./how-often.ts";
import { nothingAcked, randomOf, writeDecided } from "./ledger-load.ts";

const delivery = { delivery: writtenId };

const numbersOf = async (server: BuiltServer): Promise<number[]> =>
  (await server.call("document", delivery)).body.records.map(({ number }: { number: number }) => number);

/** A record of leaf W01 that revises the last one, asked for under a name of its own. */
interface Wish {
  readonly requestId: string;
  readonly revises: number | null;
}

const wishAfter = (issued: number): Wish => ({ requestId: ulid(), revises: issued === 0 ? null : issued });

const issue = (server: BuiltServer, wish: Wish): Promise<Answer> =>
  server.call("issueRecord", delivery, { kind: "accept", leaves: ["W01"], ...wish });

/** How long it takes to issue a record once all is loaded, ms. */
const warmIssueMs = async (server: BuiltServer): Promise<number> => {
  let began = 0;
  for (let issued = (await numbersOf(server)).length, last = issued + 3; issued < last; issued++) {
    began = performance.now();
    expect(await issue(server, wishAfter(issued))).toMatchObject({ status: 200, body: { number: issued + 1 } });
  }
  return performance.now() - began;
};

const upTo = (count: number): number[] => Array.from({ length: count }, (_, index) => index + 1);

test(`A16: ${kills.records} kills inside the issue of a record: all or nothing, and asked again the same number`, {
  timeout: 1_200_000,
}, async () => {
  const data = await temporaryFolder();
  await writeDecided(data);
  const [main, acked, random] = [builtMain(), nothingAcked(), randomOf(16)];
  const first = await startBuilt(data, { main });
  const issueMs = await warmIssueMs(first);
  first.kill("SIGTERM");
  await first.ended;
  let cookie: string | undefined = first.headers.cookie;
  let [issued, cutOff]: [number, Wish] = [3, wishAfter(3)];
  let [before, told, finished] = [0, 0, 0];
  for (let kill = 0; kill < kills.records; kill++) {
    const server = await startBuilt(data, { main, cookie });
    cookie = server.headers.cookie;
    expect(await temporaryFiles(data)).toEqual([]);
    const there = await numbersOf(server);
    expect(there).toEqual(upTo(there.length));
    if (there.length === issued) before++;
    else if (!acked.records.has(there.length)) finished++;

    const again = await issue(server, cutOff);
    expect(again).toMatchObject({ status: 200, body: { number: issued + 1 } });
    issued++;
    acked.records.add(issued);
    expect(await numbersOf(server)).toEqual(upTo(issued));

    cutOff = wishAfter(issued);
    const asked = issue(server, cutOff).then(
      ({ status, body }) => {
        if (status === 200) acked.records.add(body.number);
        told++;
      },
      () => undefined,
    );
    await wait((0.5 + 1.5 * random()) * issueMs);
    server.kill("SIGKILL");
    await server.ended;
    await asked;
    expect(await lostOrHalf(data, acked)).toEqual([]);
  }
  console.log(
    `${kills.records} kills, an issue takes ${issueMs.toFixed(0)} ms: ${before} before the record was there, ${finished} after, ${told} after the answer`,
  );
});

test("A16: twenty parallel requests with one key give one record", { timeout: 60_000 }, async () => {
  const data = await temporaryFolder();
  await writeDecided(data);
  const server = await startBuilt(data);
  const wish = wishAfter(0);
  const answers = await Promise.all(upTo(20).map(() => issue(server, wish)));
  expect(answers.map(({ status, body }) => [status, body.number])).toEqual(upTo(20).map(() => [200, 1]));
  expect(await numbersOf(server)).toEqual([1]);
  server.kill("SIGKILL");
  await server.ended;
});
