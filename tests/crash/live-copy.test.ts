import { execFileSync, spawnSync } from "node:child_process";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { Delivery } from "../../server/contract/delivery.ts";
import { backUp } from "../../server/keep/back-up.ts";
import { lookOver } from "../../server/keep/look-over.ts";
import { readLedger } from "../../server/keep/read-ledger.ts";
import { bridge } from "../../server/keep/repair.ts";
import { openStore } from "../../server/store/store.ts";
import { type BuiltServer, startBuilt } from "../support/built-server.ts";
import { keptFolder } from "../support/kept-delivery.ts";
import { by } from "../support/small-delivery.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";
import { testNow, writtenId } from "../support/written-delivery.ts";
import { liveCopies } from "./how-often.ts";
import {
  type Acked,
  enterReading,
  issueRecord,
  type Load,
  nothingAcked,
  sendPhoto,
  sendPhotoInParts,
  startLoad,
  writeDecided,
} from "./ledger-load.ts";

let data: string;
let server: BuiltServer;
let load: Load;
let acked: Acked;

beforeAll(async () => {
  data = await mkdtemp(join(tmpdir(), "leafledger-test-"));
  await writeDecided(data);
  server = await startBuilt(data);
  acked = nothingAcked();
  load = startLoad(server, [sendPhoto, sendPhotoInParts, enterReading, enterReading, issueRecord], acked, 100);
  await load.firstAck;
});

afterAll(async () => {
  load.stop();
  await load.over;
  server.kill("SIGTERM");
  await server.ended;
  await rm(data, { recursive: true });
});

/** What is named is there, or is told to be missing. */
const isMissing = /: the file is missing or cannot be read$|: a file is missing or cannot be read$/;

const documentOf = async (folder: string): Promise<Delivery> => {
  const { document } = await readLedger(writtenId, keptFolder(folder));
  if (!document) throw new Error(`${folder} holds no delivery`);
  return document;
};

describe("while phones and laptop are at work", { timeout: 300_000 }, () => {
  test(`A13: ${liveCopies} copies by cp open, and what is named is there or told to be missing`, async () => {
    let missing = 0;
    for (let number = 0; number < liveCopies; number++) {
      const copy = join(await temporaryFolder(), "copy");
      await wait(50);
      spawnSync("cp", ["-r", data, copy]); // it complains of files that were renamed meanwhile, and goes on
      const { faults } = await lookOver(writtenId, keptFolder(copy));
      expect(faults.filter((fault) => !isMissing.test(fault))).toEqual([]);
      missing += faults.length;
      const store = await openStore(copy, testNow);
      expect([...store.damaged]).toEqual([]);
      await store.close();
      const [then, now] = [await documentOf(copy), await documentOf(data)];
      expect(now.records.slice(0, then.records.length)).toEqual(then.records);
    }
    console.log(`${liveCopies} copies, ${missing} files told to be missing`);
  });

  test("A13: a copy in which the snapshots are newer than the journal says so, and opens when it is bridged", async () => {
    const copy = join(await temporaryFolder(), "copy");
    execFileSync("mkdir", ["-p", keptFolder(copy)]);
    execFileSync("cp", [join(keptFolder(data), "journal.jsonl"), keptFolder(copy)]);
    const lines = (await readLedger(writtenId, keptFolder(copy))).lines.length;
    while ((await readLedger(writtenId, keptFolder(data))).lines.length < lines + 60) await wait(50);
    for (const part of ["photos", "records", "snapshots"])
      execFileSync("cp", ["-r", join(keptFolder(data), part), keptFolder(copy)]);

    const refused = await openStore(copy, testNow);
    expect([...refused.damaged.values()]).toEqual([expect.stringContaining(`ends at line ${lines}`)]);
    await refused.close();
    expect((await bridge(writtenId, copy, by, testNow())).upTo).toBeGreaterThan(lines);
    const store = await openStore(copy, testNow);
    expect([...store.damaged]).toEqual([]);
    await store.close();
    const { faults } = await lookOver(writtenId, keptFolder(copy));
    expect(faults.filter((fault) => !isMissing.test(fault))).toEqual([]);
  });

  test(`A13: ${liveCopies} backups hold all that was acknowledged before them, and nothing is missing`, async () => {
    for (let number = 0; number < liveCopies; number++) {
      const to = join(await temporaryFolder(), "backup");
      const before = [...acked.photos];
      const { list, found } = await backUp(data, [writtenId], to, new Date().toISOString());
      expect(list.deliveries).toMatchObject([{ delivery: writtenId }]);
      expect(found).toMatchObject([{ faults: [] }]);
      const photos = new Set((await documentOf(to)).photos.map(({ id }) => id));
      expect(before.filter((id) => !photos.has(id))).toEqual([]);
    }
    expect(load.odd).toEqual([]);
  });
});
