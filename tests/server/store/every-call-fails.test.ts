import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { sha256Of } from "../../../server/records/canonical.ts";
import type { DeliveryStore, Head } from "../../../server/site.ts";
import { type OpenStore, openStore } from "../../../server/store/store.ts";
import { newDelivery } from "../../../server/use-cases/create-delivery.ts";
import { diskError, failingDisk } from "../../support/failing-disk.ts";
import { by, smallDelivery } from "../../support/small-delivery.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";
import { testNow, writtenId } from "../../support/written-delivery.ts";

/** What was answered with "saved": the oracle of what must be there afterwards. */
interface Acknowledged {
  created: boolean;
  readings: string[];
  photos: string[];
  records: number[];
}

const readingId = (number: number): string => `01J000000000000000000000${String(number).padStart(2, "0")}`;

const addReading = (delivery: DeliveryStore, number: number) =>
  delivery.change(by, `Reading ${number}`, (draft) => {
    const rest = { temperatureC: 18, humidityPercent: 50, place: "", instrument: "", event: "", by: "" };
    draft.readings.push({ id: readingId(number), at: testNow(), ...rest });
  });

const addPhoto = async (delivery: DeliveryStore, content: string): Promise<string> => {
  const id = sha256Of(content);
  const path = join(delivery.temporaryFolder, id.slice(0, 8));
  await writeFile(path, content);
  await delivery.photos.keep(path, id);
  await delivery.change(by, "Photo", (draft) => {
    const size = { bytes: content.length, width: 9, height: 9 };
    const rest = { takenAt: null, receivedAt: testNow(), camera: "", flags: [], note: "" };
    draft.photos.push({ id, name: "x.jpg", kind: "single", shows: [], ...size, ...rest });
  });
  return id;
};

const issue = (delivery: DeliveryStore): Promise<number> =>
  delivery
    .change(by, "Record", async (draft) => {
      const number = draft.records.length + 1;
      await delivery.records.write(number, `{"number":${number}}`, Buffer.from("%PDF"));
      const hashes = { jsonSha256: "a".repeat(64), pdfSha256: "b".repeat(64), previousSha256: null };
      const rest = { revises: null, revision: 1, leaves: [], issuedAt: testNow(), by: "", deadline: null };
      draft.records.push({ number, kind: "accept", ...rest, ...hashes });
      return number;
    })
    .then(({ result }) => result);

/** Changes alone and several at once, photos, records, a snapshot at the end: whatever fails, the next one is tried. */
const work = async (store: OpenStore, saved: Acknowledged): Promise<Head | null> => {
  const tried = async <T>(task: () => Promise<T>, then: (value: T) => void): Promise<void> => {
    await task().then(then, () => undefined);
  };
  await tried(
    () => store.create(by, newDelivery(writtenId, smallDelivery)),
    () => {
      saved.created = true;
    },
  );
  if (!saved.created) return null;
  const delivery = store.open(writtenId);
  const reading = (number: number) =>
    tried(
      () => addReading(delivery, number),
      () => saved.readings.push(readingId(number)),
    );
  await reading(1);
  await Promise.all([2, 3, 4, 5].map(reading));
  await tried(
    () => addPhoto(delivery, "one photo"),
    (id) => saved.photos.push(id),
  );
  const number = (value: number) => saved.records.push(value);
  await Promise.all([tried(() => issue(delivery), number), reading(6), tried(() => issue(delivery), number)]);
  // One line over what a batch that failed may have left: it must not stand in the middle of it.
  await Promise.all([7, 8, 9, 10].map(reading));
  await reading(11);
  return delivery.head();
};

const check = async (folder: string, saved: Acknowledged, seen: Head | null, hint: string): Promise<void> => {
  const store = await openStore(folder, testNow);
  try {
    expect([...store.damaged], hint).toEqual([]);
    if (!saved.created) return;
    const delivery = store.open(writtenId);
    const document = delivery.read();
    expect(delivery.head().seq, hint).toBeGreaterThanOrEqual(seen?.seq ?? 0);
    expect(
      document.readings.map(({ id }) => id),
      hint,
    ).toEqual(expect.arrayContaining(saved.readings));
    expect(
      document.photos.map(({ id }) => id),
      hint,
    ).toEqual(expect.arrayContaining(saved.photos));
    for (const { id } of document.photos) expect(await delivery.photos.check(id), hint).toBeNull();
    expect(
      document.records.map(({ number }) => number),
      hint,
    ).toEqual(document.records.map((_, index) => index + 1));
    expect(document.records.length, hint).toBeGreaterThanOrEqual(saved.records.length);
    for (const { number } of document.records)
      expect(await readFile(delivery.records.path(number, "json"), "utf8"), hint).toBe(`{"number":${number}}`);
    await addReading(delivery, 99);
  } finally {
    await store.close();
  }
};

/** Runs the work with a fault of one kind; gives the calls that it made. */
const runWith = async (fault: (n: number, call: string) => Error | null, hint: string): Promise<number> => {
  const folder = await temporaryFolder();
  const { disk, calls } = failingDisk(fault);
  const saved: Acknowledged = { created: false, readings: [], photos: [], records: [] };
  const store = await openStore(folder, testNow, { disk }).catch(() => null);
  let failedFlush = false;
  let seen: Head | null = null;
  if (store) {
    seen = await work(store, saved);
    failedFlush = store.health().readOnly !== null;
    const answers = { ...saved };
    if (failedFlush) await expect(store.create(by, newDelivery("other", smallDelivery))).rejects.toThrow();
    expect(saved, hint).toEqual(answers);
    await store.close().catch(() => undefined);
  }
  await check(folder, saved, seen, hint);
  return calls();
};

const atOnce = 16;

describe("A7: a disk whose n-th call fails, for every n: nothing acknowledged is lost, and the folder opens again", () => {
  const kinds = [
    ["EIO once", "EIO", false],
    ["EIO from then on", "EIO", true],
    ["ENOSPC once", "ENOSPC", false],
    ["ENOSPC from then on", "ENOSPC", true],
  ] as const;
  test.each(kinds)("%s", { timeout: 120_000 }, async (name, code, lasting) => {
    const calls = await runWith(() => null, "no fault");
    expect(calls).toBeGreaterThan(60);
    const all = Array.from({ length: calls }, (_, index) => index + 1);
    while (all.length > 0)
      await Promise.all(
        all
          .splice(0, atOnce)
          .map((at) =>
            runWith(
              (n, call) => (n === at || (lasting && n > at) ? diskError(code, call) : null),
              `${name}, call ${at}`,
            ),
          ),
      );
  });
});
