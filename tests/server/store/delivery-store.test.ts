import { chmod, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { sha256Of } from "../../../server/records/canonical.ts";
import type { DeliveryStore } from "../../../server/site.ts";
import { type OpenStore, openStore } from "../../../server/store/store.ts";
import { newDelivery } from "../../../server/use-cases/create-delivery.ts";
import { by, smallDelivery } from "../../support/small-delivery.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";
import { testNow, writtenId } from "../../support/written-delivery.ts";

let store: OpenStore;
let delivery: DeliveryStore;
let folder: string;

beforeEach(async () => {
  folder = await temporaryFolder();
  store = await openStore(folder, testNow);
  delivery = await store.create(by, newDelivery(writtenId, smallDelivery));
});
afterEach(() => store.close());

const count = (line: 0 | 1, counted: number | null, what = `Counted ${counted}`) =>
  delivery.change(by, what, (draft) => {
    const found = draft.lines[line];
    if (found) found.counted = counted;
  });

const reopened = async (): Promise<DeliveryStore> => {
  await store.close();
  store = await openStore(folder, testNow);
  delivery = store.open(writtenId);
  return delivery;
};

describe("changing", () => {
  test("a change is read back after opening again", async () => {
    expect(await count(0, 3)).toEqual({ seq: 2, result: undefined });
    const before = delivery.head();
    expect((await reopened()).read().lines[0]?.counted).toBe(3);
    expect(delivery.head()).toEqual(before);
  });

  test("a recipe that throws, or a document that does not fit, changes nothing and holds up nobody", async () => {
    const head = delivery.head();
    await expect(
      delivery.change(by, "x", (draft) => {
        draft.lines.pop();
        throw new Error("no");
      }),
    ).rejects.toThrow("no");
    await expect(count(0, -1)).rejects.toThrow();
    expect(delivery.head()).toEqual(head);
    expect(delivery.read().lines.length).toBe(2);
    await count(0, 4);
    expect(delivery.read().lines[0]?.counted).toBe(4);
  });

  test("a change that changes nothing writes no line", async () => {
    await count(0, 4);
    expect((await count(0, 4)).seq).toBe(2);
    expect(delivery.head().seq).toBe(2);
  });

  test("changes at the same time run one after the other, each on what the one before left", async () => {
    const added = await Promise.all(
      Array.from({ length: 20 }, () =>
        delivery.change(by, "one more", async (draft) => {
          const line = draft.lines[0];
          const seen = line?.counted ?? 0;
          await new Promise((done) => setImmediate(done));
          if (line) line.counted = seen + 1;
          return seen;
        }),
      ),
    );
    expect(added.map(({ result }) => result)).toEqual(Array.from({ length: 20 }, (_, index) => index));
    expect(delivery.read().lines[0]?.counted).toBe(20);
  });

  test("readers see nothing before it is on disk", async () => {
    const running = count(0, 5);
    expect(delivery.read().lines[0]?.counted).toBeNull();
    await running;
    expect(delivery.read().lines[0]?.counted).toBe(5);
  });
});

describe("taking back", () => {
  test("puts back what was there, as a new line, and can itself be taken back", async () => {
    await count(0, 3);
    const { seq } = await count(0, 8);
    expect(await delivery.undo(by, seq)).toEqual({ seq: 4 });
    expect(delivery.read().lines[0]?.counted).toBe(3);
    await delivery.undo(by, 4);
    expect(delivery.read().lines[0]?.counted).toBe(8);
    expect(delivery.history().map(({ what }) => what)).toContain("Took back: Counted 8");
    expect((await reopened()).read().lines[0]?.counted).toBe(8);
  });

  test("is refused when a later change touched the same, allowed when it touched something else", async () => {
    const { seq } = await count(0, 3);
    await count(1, 2);
    expect(delivery.history().map(({ undoable }) => undoable)).toEqual([false, true, true]);
    await count(0, 4);
    await expect(delivery.undo(by, seq)).rejects.toThrow(/Change 4 \(Counted 4\) came later and rests on it/);
    expect(delivery.read().lines[0]?.counted).toBe(4);
  });

  test("an added element can go while nothing was added after it, whatever happened to those before", async () => {
    const reading = {
      id: "01J00000000000000000000000",
      at: testNow(),
      temperatureC: 18,
      humidityPercent: 50,
      place: "",
      instrument: "",
      event: "",
      by: "",
    };
    const add = (temperatureC: number) =>
      delivery.change(by, "Reading", (draft) => {
        draft.readings.push({ ...reading, temperatureC });
      });
    const first = await add(18);
    const second = await add(19);
    await expect(delivery.undo(by, first.seq)).rejects.toThrow(/Change 3 \(Reading\) came later/);
    await delivery.change(by, "Corrected", (draft) => {
      const early = draft.readings[0];
      if (early) early.place = "stack";
    });
    await expect(delivery.undo(by, first.seq)).rejects.toThrow(/came later/);
    await delivery.undo(by, second.seq);
    expect(delivery.read().readings.map(({ temperatureC, place }) => [temperatureC, place])).toEqual([[18, "stack"]]);
  });

  test("photos, records and the beginning are kept", async () => {
    await expect(delivery.undo(by, 1)).rejects.toThrow(/are kept/);
    const photo = {
      id: "a".repeat(64),
      name: "x.jpg",
      kind: "single" as const,
      shows: [],
      note: "",
      takenAt: null,
      receivedAt: testNow(),
      bytes: 3,
      width: 10,
      height: 10,
      camera: "",
      flags: [],
    };
    const { seq } = await delivery.change(by, "Photo", (draft) => {
      draft.photos.push(photo);
    });
    await expect(delivery.undo(by, seq)).rejects.toThrow(/are kept/);
    const filed = await delivery.change(by, "Filed", (draft) => {
      const one = draft.photos[0];
      if (one) one.note = "corner";
    });
    await delivery.undo(by, filed.seq);
    expect(delivery.read().photos[0]?.note).toBe("");
    await expect(delivery.undo(by, 99)).rejects.toThrow("There is no change number 99.");
  });
});

describe("files", () => {
  const keep = async (bytes: Buffer): Promise<string> => {
    const path = join(delivery.temporaryFolder, "upload");
    await writeFile(path, bytes);
    const id = sha256Of(bytes);
    await delivery.photos.keep(path, id);
    await delivery.change(by, "Photo", (draft) => {
      draft.photos.push({
        id,
        name: "x.jpg",
        kind: "single",
        shows: [],
        note: "",
        takenAt: null,
        receivedAt: testNow(),
        bytes: bytes.length,
        width: 10,
        height: 10,
        camera: "",
        flags: [],
      });
    });
    return id;
  };
  const issue = async (number: number): Promise<void> => {
    const [json, pdf] = [`{"number":${number}}`, Buffer.from(`pdf ${number}`)];
    await delivery.records.write(number, json, pdf);
    await delivery.change(by, "Record", (draft) => {
      draft.records.push({
        number,
        kind: "return",
        revises: null,
        revision: 1,
        leaves: ["W01"],
        issuedAt: testNow(),
        by: "",
        deadline: null,
        jsonSha256: sha256Of(json),
        pdfSha256: sha256Of(pdf),
        previousSha256: draft.records.at(-1)?.jsonSha256 ?? null,
      });
    });
  };

  test("a sound delivery verifies", async () => {
    await keep(Buffer.from("photo"));
    await issue(1);
    await issue(2);
    expect(await delivery.verify()).toEqual({ checked: 9, faults: [] });
  });

  test.each([
    ["cut short", (bytes: Buffer) => bytes.subarray(0, 3), /is 3 bytes long, was 5/],
    [
      "one bit flipped",
      (bytes: Buffer) => Buffer.from(bytes.map((byte, at) => (at === 2 ? byte ^ 1 : byte))),
      /bytes were changed/,
    ],
  ])("a photo %s is found", async (_, damage, says) => {
    const id = await keep(Buffer.from("photo"));
    await writeFile(delivery.photos.path(id), damage(Buffer.from("photo")));
    expect((await delivery.verify()).faults).toEqual([expect.stringMatching(says)]);
  });

  test("any flipped bit of an issued record is found; the files are read-only and never written again", async () => {
    await issue(1);
    const path = join(folder, "deliveries", writtenId, "records", "record-000001.json");
    const whole = await readFile(path);
    await chmod(path, 0o644);
    for (let at = 0; at < whole.length; at++) {
      const bad = Buffer.from(whole);
      bad.writeUInt8(bad.readUInt8(at) ^ 1, at);
      await writeFile(path, bad);
      expect((await delivery.verify()).faults).toEqual(["record 1: JSON changed"]);
    }
    await expect(delivery.records.write(1, "{}", Buffer.from(""))).rejects.toThrow(/never changes/);
  });

  test("the same bytes twice are one file, and nothing is left behind", async () => {
    const id = await keep(Buffer.from("photo"));
    const again = join(delivery.temporaryFolder, "again");
    await writeFile(again, "photo");
    await delivery.photos.keep(again, id);
    await expect(readFile(again)).rejects.toThrow("ENOENT");
    expect(await readFile(delivery.photos.path(id), "utf8")).toBe("photo");
  });

  test("a measurement that is torn reads as none", async () => {
    const id = "b".repeat(64);
    expect(await delivery.measurements.read(id)).toBeNull();
    await delivery.measurements.write(id, { lab: [1, 2, 3] });
    expect(await delivery.measurements.read(id)).toEqual({ lab: [1, 2, 3] });
    await writeFile(join(folder, "deliveries", writtenId, "measurements", "bb", `${id}.json`), '{"lab":[1,');
    expect(await delivery.measurements.read(id)).toBeNull();
  });
});
