import { createHash } from "node:crypto";
import { mkdtemp, readdir, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import type { Delivery } from "../../../server/contract/delivery.ts";
import { canonicalJson, sha256Of } from "../../../server/records/canonical.ts";
import { printed } from "../../../server/records/printing.ts";
import { leafRecord } from "../../../server/records/record-schema.ts";
import type { CropRequest, Site } from "../../../server/site.ts";
import { type OpenStore, openStore } from "../../../server/store/store.ts";
import { issueRecord } from "../../../server/use-cases/issue-record.ts";
import { quayDelivery } from "../records/quay-delivery.ts";

const by = { name: "R. Tallis", device: "laptop" };
const actor = by;
const beforeTheDeadline = "2026-03-06T09:30:00+00:00";

/** A grey JPEG of one pixel. */
const jpeg = Buffer.from(
  "/9j/4AAQSkZJRgABAQEASABIAAD/2wBDAAMCAgICAgMCAgIDAwMDBAYEBAQEBAgGBgUGCQgKCgkICQkKDA8MCgsOCwkJDRENDg8QEBEQCgwSExIQEw8QEBD/wAALCAABAAEBAREA/8QAFAABAAAAAAAAAAAAAAAAAAAACf/EABQQAQAAAAAAAAAAAAAAAAAAAAD/2gAIAQEAAD8AVN//2Q==",
  "base64",
);
const outline: CropRequest["corners"] = [
  [100, 100],
  [563, 100],
  [563, 1120],
  [100, 1120],
];

let folder: string;
let store: OpenStore;
let now: string;
let crops: CropRequest[];
let brokenDarkroom: boolean;

const siteOf = (): Site => {
  const made = async (): Promise<Buffer> => {
    if (brokenDarkroom) throw new Error("cannot be decoded");
    return jpeg;
  };
  return {
    store,
    now: () => now,
    newId: () => "01J00000000000000000000000",
    readFile: () => Promise.reject(new Error("not used here")),
    print: printed,
    askAllotment: () => Promise.reject(new Error("not asked here")),
    dealByHand: () => Promise.reject(new Error("not asked here")),
    planning: {
      make: () => Promise.reject(new Error("not asked here")),
      stop: () => false,
      progress: () => null,
      onProgress: () => () => {},
    },
    darkroom: {
      examine: async () => ({ kind: "refused", status: 415, why: "not used here" }),
      preview: made,
      crop: (_, request) => {
        crops.push(request);
        return made();
      },
      supplierCopy: async (_, to) => {
        await writeFile(to, await made());
        return { bytes: jpeg.length, removed: ["position"] };
      },
      close: async () => {},
    },
    measuring: {
      measured: () => ({
        solvedAt: null,
        state: () => ({ kind: "waiting" }),
        faces: () => [],
        proposedMarks: () => [],
        cuts: () => [],
        difference: (a, b) => ({ a, b, part: null, deltaE: null, u95: null, verdict: "cannot-tell", advice: null }),
        markContrast: async () => null,
        corners: () => outline,
        untied: [],
        repeats: [],
        chart: null,
      }),
      progress: () => ({ waiting: 0, measured: 0, retake: 0, kept: 0, failed: 0, solvedAt: null }),
      wake: () => {},
      settled: async () => {},
      onProgress: () => () => {},
    },
  };
};

/** The delivery with real files behind the photos of W03; those of the others are missing. */
const withPhotos = async (delivery: Delivery): Promise<Map<string, Buffer>> => {
  const files = new Map<string, Buffer>();
  for (const photo of delivery.photos.filter(({ shows }) => shows[0]?.leaf === "W03")) {
    const bytes = Buffer.from(`bytes of ${photo.name}`);
    const id = createHash("sha256").update(bytes).digest("hex");
    for (const mark of delivery.marks) if (mark.photo === photo.id) mark.photo = id;
    Object.assign(photo, { id, bytes: bytes.length });
    files.set(id, bytes);
  }
  return files;
};

const open = async (change: (delivery: Delivery) => void = () => {}): Promise<void> => {
  const delivery = quayDelivery();
  const files = await withPhotos(delivery);
  change(delivery);
  const opened = await store.create(actor, delivery);
  for (const [id, bytes] of files) {
    const temporary = join(opened.temporaryFolder, id);
    await writeFile(temporary, bytes);
    await opened.photos.keep(temporary, id);
  }
};

const issue = (
  kind: "accept" | "return",
  leaves: string[],
  revises: number | null = null,
): Promise<{ number: number; late: boolean }> => issueRecord(siteOf(), "quay", { by, kind, leaves, revises });

const recordOf = async (number: number) => leafRecord.parse(JSON.parse(await store.open("quay").records.json(number)));

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "records-"));
  now = beforeTheDeadline;
  crops = [];
  brokenDarkroom = false;
  store = await openStore(folder, () => now);
});

afterEach(async () => {
  await store.close();
  await rm(folder, { recursive: true, force: true });
});

describe("an issued record", () => {
  test("is numbered, chained, and stands in journal and files with the same hashes", async () => {
    await open();
    expect(await issue("accept", ["W02", "W05"])).toEqual({ number: 1, late: false });
    expect(await issue("return", ["W03", "P1", "P2"])).toEqual({ number: 2, late: false });
    const quay = store.open("quay");
    const [first, second] = quay.read().records;
    expect(second).toMatchObject({ number: 2, revision: 1, deadline: "2026-03-06T17:00:00+00:00" });
    expect(second?.previousSha256).toBe(first?.jsonSha256);
    for (const record of quay.read().records) {
      const json = await quay.records.json(record.number);
      expect(sha256Of(json)).toBe(record.jsonSha256);
      expect(canonicalJson(JSON.parse(json))).toBe(json);
      expect(sha256Of(await quay.records.pdf(record.number))).toBe(record.pdfSha256);
    }
    const frozen = await recordOf(2);
    expect(frozen.previous).toEqual({ number: 1, jsonSha256: first?.jsonSha256, pdfSha256: first?.pdfSha256 });
    expect((await quay.verify()).faults.filter((fault) => fault.startsWith("record"))).toEqual([]);
  });

  test("holds the deadline as counted: three working days after Tuesday end on Friday at five", async () => {
    await open();
    await issue("return", ["W03"]);
    const { windows, late } = await recordOf(1);
    expect(late).toBe(false);
    expect(windows[0]).toMatchObject({ kind: "damage", deadline: "2026-03-06T17:00:00+00:00", hoursLeft: 7.5 });
    expect(windows[0]?.counted).toContain("3 working days");
  });

  test("is issued late all the same and says so", async () => {
    await open();
    now = "2026-03-06T17:00:00+00:00";
    expect(await issue("return", ["W03"])).toEqual({ number: 1, late: true });
    expect((await recordOf(1)).late).toBe(true);
  });

  test("asks the darkroom for faces and marks in mm, and lists the copies by hash", async () => {
    await open();
    await issue("return", ["W03"]);
    expect(crops.map(({ box }) => [box.w, box.h])).toEqual([
      [926, 2040],
      [926, 2040],
      [500, 500],
      [100, 100],
    ]);
    const { pictures, photos } = await recordOf(1);
    expect(pictures.map(({ copy }) => copy)).toEqual(
      Array.from({ length: 4 }, () => ({ kind: "made", sha256: sha256Of(jpeg), bytes: jpeg.length })),
    );
    expect(photos.map(({ original }) => original)).toEqual(["as-received", "as-received"]);
  });

  test("tells of originals that are missing or were changed, and shows no picture of them", async () => {
    await open();
    const quay = store.open("quay");
    const id = quay.read().photos.find(({ shows }) => shows[0]?.leaf === "W03" && shows[0].face === "B")?.id ?? "";
    const path = quay.photos.path(id);
    await rm(path, { force: true });
    await writeFile(path, "other bytes");
    await issue("return", ["W03", "S02"]);
    const { photos, pictures } = await recordOf(1);
    const stateOf = (leaf: string) => photos.filter(({ shows }) => shows[0]?.leaf === leaf).map((one) => one.original);
    expect(stateOf("W03")).toEqual(["as-received", "changed"]);
    expect(stateOf("S02")).toEqual(["missing", "missing"]);
    expect(pictures.find(({ name }) => name === "W03-B")?.copy).toMatchObject({ kind: "missing" });
    expect(pictures.find(({ name }) => name === "S02-A")?.copy).toMatchObject({ kind: "missing" });
  });

  test("is issued without pictures when none can be made", async () => {
    await open();
    brokenDarkroom = true;
    await issue("return", ["W03"]);
    const { pictures } = await recordOf(1);
    expect(pictures.every(({ copy }) => copy.kind === "missing")).toBe(true);
  });

  test("A16: twenty at once with one request are one record with one number; the request again gets it too", async () => {
    await open();
    const requestId = "01J00000000000000000000009";
    const ask = (leaves: string[]) =>
      issueRecord(siteOf(), "quay", { by, kind: "accept", leaves, revises: null, requestId });
    const answers = await Promise.all(Array.from({ length: 20 }, () => ask(["W02"])));
    expect(new Set(answers.map(({ number }) => number))).toEqual(new Set([1]));
    expect(store.open("quay").read().records.length).toBe(1);
    expect(await ask(["W02"])).toEqual({ number: 1, late: false });
    await expect(ask(["W05"])).rejects.toThrow("This request issued record 1 of other leaves already");
    expect((await issue("accept", ["W05"])).number).toBe(2);
    expect(await readdir(store.open("quay").temporaryFolder)).toEqual([]);
  });

  test("two at once get two numbers, and the same leaf only one record", async () => {
    await open();
    const outcomes = await Promise.allSettled([
      issue("return", ["W03"]),
      issue("return", ["W03"]),
      issue("accept", ["W02"]),
    ]);
    // Whoever has its pictures first is first: one of the two for W03.
    expect(
      outcomes
        .slice(0, 2)
        .map(({ status }) => status)
        .toSorted(),
    ).toEqual(["fulfilled", "rejected"]);
    expect(outcomes[2]?.status).toBe("fulfilled");
    expect(
      store
        .open("quay")
        .read()
        .records.map(({ number }) => number),
    ).toEqual([1, 2]);
  });

  test("stays as issued when the leaf changes afterwards", async () => {
    await open();
    await issue("return", ["W03"]);
    const quay = store.open("quay");
    const before = await quay.records.json(1);
    await quay.change(actor, "changes the reason", (draft) => {
      for (const leaf of draft.leaves) if (leaf.decision) leaf.decision.reason = "another reason";
    });
    expect(await quay.records.json(1)).toBe(before);
    expect(before).toContain("wrapping torn at the same place");
  });
});

describe("a revision", () => {
  test("supersedes the record it names and counts on", async () => {
    await open();
    await issue("return", ["W03"]);
    expect(await issue("return", ["W03", "S02"], 1)).toMatchObject({ number: 2 });
    const [first, second] = store.open("quay").read().records;
    expect(second).toMatchObject({ revises: 1, revision: 2 });
    expect((await recordOf(2)).revises).toEqual({
      number: 1,
      jsonSha256: first?.jsonSha256,
      pdfSha256: first?.pdfSha256,
    });
  });

  test.each([
    ["a record that was revised already", 1, /revised by record 2/],
    ["a record that is not there", 9, /no record 9/],
  ])("is refused for %s", async (_, revises, says) => {
    await open();
    await issue("return", ["W03"]);
    await issue("return", ["W03"], 1);
    await expect(issue("return", ["W03"], revises)).rejects.toThrow(says);
  });

  test("is refused for a record of another kind", async () => {
    await open();
    await issue("accept", ["W02"]);
    await expect(issue("return", ["W03"], 1)).rejects.toThrow(/another kind/);
  });
});

describe("refused, and nothing written", () => {
  test.each([
    ["an unknown leaf", "return", ["X99"], /no leaf X99/],
    ["an undecided leaf", "return", ["S01"], /S01 is not decided/],
    ["an accepted leaf on a return record", "return", ["W02"], /W02 is not decided for return/],
    ["a returned leaf on an acceptance record", "accept", ["W02", "W03"], /W03 is not accepted/],
    ["half of a pair", "return", ["P1"], /half of a matched pair.*P2/],
    ["a leaf named twice", "return", ["W03", "W03"], /twice/],
  ] as const)("%s", async (_, kind, leaves, says) => {
    await open();
    const { seq } = store.open("quay").head();
    await expect(issue(kind, [...leaves])).rejects.toThrow(says);
    expect(store.open("quay").read().records).toEqual([]);
    expect(store.open("quay").head().seq).toBe(seq);
    await expect(store.open("quay").records.json(1)).rejects.toThrow();
  });

  test("a leaf that stands on another record", async () => {
    await open();
    await issue("return", ["W03"]);
    await expect(issue("return", ["W03", "S02"])).rejects.toThrow(/Record 1 holds W03 already/);
  });
});

test("after a crash between files and journal line the number is given again", async () => {
  await open();
  const quay = store.open("quay");
  await quay.records.write(1, "{}", Buffer.from("left by a crash"));
  expect(await issue("return", ["W03"])).toMatchObject({ number: 1 });
  expect(sha256Of(await quay.records.json(1))).toBe(quay.read().records[0]?.jsonSha256);
});
