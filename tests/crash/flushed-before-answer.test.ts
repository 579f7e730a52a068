import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type BuiltServer, startBuilt } from "../support/built-server.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";
import { writtenId } from "../support/written-delivery.ts";
import { anotherPhoto, enterReading, nothingAcked, sendPhoto, sendPhotoInParts, writeDecided } from "./ledger-load.ts";
import { callsDuring, hasStrace, type SystemCall } from "./system-calls.ts";

const here = hasStrace();
if (!here) console.log("A3 skipped: strace is not on this machine, or may not look at other processes.");

let data: string;
let server: BuiltServer;

beforeAll(async () => {
  if (!here) return;
  data = await mkdtemp(join(tmpdir(), "leafledger-test-"));
  await writeDecided(data);
  server = await startBuilt(data);
  await server.upload(writtenId, anotherPhoto()); // the child that looks at photos has started
});

afterAll(async () => {
  if (!here) return;
  server.kill("SIGTERM");
  await server.ended;
  await rm(data, { recursive: true });
});

/** The first call that fits, after the one before has ended. */
const follows = (
  calls: readonly SystemCall[],
  steps: readonly [says: string, name: RegExp, given: RegExp][],
): string[] => {
  let from = -1;
  return steps.map(([says, name, given]) => {
    const call = calls.find((one) => one.began > from && name.test(one.name) && given.test(one.given));
    if (!call || call.result.startsWith("-1")) return `no ${says} after line ${from}`;
    from = call.ended;
    return says;
  });
};

const names = (steps: readonly [string, RegExp, RegExp][]) => steps.map(([says]) => says);
const flush = /^f(data)?sync$/;
const answer: [string, RegExp, RegExp] = ["answer", /^(write|writev|sendto|sendmsg)$/, /TCP.*HTTP\/1\.1 200/];
const line: [string, RegExp, RegExp] = ["line of the journal", /^p?write/, /journal\.jsonl>/];
const lineFlushed: [string, RegExp, RegExp] = ["flush of the journal", flush, /journal\.jsonl>/];

/** That no answer went out before the first flush of the journal had ended. */
const noAnswerBeforeFlush = (calls: readonly SystemCall[]): void => {
  const flushed = calls.find(({ name, given }) => flush.test(name) && /journal\.jsonl>/.test(given));
  const answered = calls.find(({ name, given }) => answer[1].test(name) && answer[2].test(given));
  expect(answered?.began ?? -1).toBeGreaterThan(flushed?.ended ?? Number.POSITIVE_INFINITY);
};

test.skipIf(!here).each([
  ["sent whole", sendPhoto],
  ["sent in parts", sendPhotoInParts],
])(
  "A3: a photo %s is flushed, named, its folder flushed, the journal flushed, then answered",
  { timeout: 60_000 },
  async (_, send) => {
    const calls = await callsDuring(server.process.pid!, join(await temporaryFolder(), "calls"), async () => {
      expect(await send(server, nothingAcked())).toBe(200);
    });
    const steps: [string, RegExp, RegExp][] = [
      ["flush of the photo", flush, /\/tmp\/[^/]+>$/],
      ["name of the photo", /^rename/, /\/tmp\/.*\/photos\/[0-9a-f]{2}\/[0-9a-f]{64}"/],
      ["flush of its folder", flush, /\/photos\/[0-9a-f]{2}>/],
      ["flush of the folder of all", flush, /\/photos>/],
      line,
      lineFlushed,
      answer,
    ];
    expect(follows(calls, steps)).toEqual(names(steps));
    noAnswerBeforeFlush(calls);
  },
);

test.skipIf(!here)(
  "A3: an edit is written to the journal and flushed, then answered",
  { timeout: 60_000 },
  async () => {
    const calls = await callsDuring(server.process.pid!, join(await temporaryFolder(), "calls"), async () => {
      expect(await enterReading(server, nothingAcked())).toBe(200);
    });
    const steps = [line, lineFlushed, answer];
    expect(follows(calls, steps)).toEqual(names(steps));
    noAnswerBeforeFlush(calls);
  },
);
