import { readdir } from "node:fs/promises";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import type { Overview } from "../../../server/contract/views.ts";
import { type Api, apiOf } from "../../support/http.ts";
import { orderCsv, scheduleCsv } from "../../support/small-delivery.ts";
import { type TestSite, testSite } from "../../support/test-site.ts";

const single = "FL-2040X826";
const pair = "FL-2040X726";
const accept = { outcome: "accept", reason: "", allowance: null, party: null, asks: null };
const goBack = { ...accept, outcome: "return", reason: "wrong colour", asks: "replace" };

let site: TestSite;
let api: Api;
let delivery: string;

beforeEach(async () => {
  site = await testSite();
  api = apiOf(site);
  delivery = await api.begin();
});
afterEach(async () => {
  await site.remove();
  expect(api.faults).toEqual([]);
});

const overview = async (): Promise<Overview> => (await api.call("overview", { delivery }).expect(200)).body;
const decide = (leaf: string, decision: object | null) => api.call("decideLeaf", { delivery, leaf }, { decision });

describe("a delivery", () => {
  test("begins with every line undecided and its windows counted", async () => {
    const { lines, money, windows } = await overview();
    expect(lines.map(({ undecided }) => undecided)).toEqual([4, 2]);
    expect(money).toMatchObject({ total: 1701, undecided: 1701, pay: 0 });
    expect(windows[0]).toMatchObject({ kind: "shortage", deadline: "2026-03-04T10:40:00+00:00", shut: false });
    expect((await api.call("listDeliveries")).body).toMatchObject([{ id: delivery, name: "Tarn Mill", leaves: 0 }]);
  });

  test("counted short gives the sentence for the note, and can be taken back", async () => {
    const { body } = await api.call("countLine", { delivery, line: "L1" }, { counted: 3 }).expect(200);
    expect((await overview()).lines[0]?.noteSentence).toBe(
      "Line L1, oak 826: 4 leaves on the note, 3 received, 1 short.",
    );
    await api.call("undo", { delivery }, { seq: body.seq }).expect(200);
    expect((await overview()).lines[0]?.counted).toBeNull();
    const { body: history } = await api.call("history", { delivery });
    expect(history.map(({ what }: { what: string }) => what)).toEqual([
      "Took back: Counted 3 on line L1",
      "Counted 3 on line L1",
      "Delivery PL-1 of Pellingford Leaf Co.",
    ]);
  });

  test("keeps a leaf that a wish still names, gives one up that nothing names", async () => {
    const leaf = { code: "W01", line: "L1", pattern: single, identity: "as-ordered", replaces: null };
    const added: number = (await api.call("addLeaf", { delivery }, { leaf }).expect(200)).body.seq;
    const locks = [{ opening: "1.01", place: 0, leaf: "W01", turned: null }];
    const { body } = await api.call("setWishes", { delivery }, { locks, bans: [] }).expect(200);
    const refused = await api.call("undo", { delivery }, { seq: added }).expect(409);
    expect(refused.body.detail).toBe("W01 cannot go: a lock in 1.01 holds it.");
    await api.call("undo", { delivery }, { seq: body.seq }).expect(200);
    await api.call("undo", { delivery }, { seq: added }).expect(200);
  });

  test("takes a corrected order without losing counts, and refuses one that drops a line with leaves", async () => {
    await api.call("countLine", { delivery, line: "L1" }, { counted: 3 });
    await api.leaf(delivery, "W01", "L1", single);
    await api.call("importOrder", { delivery }, { csv: orderCsv.replace("300,4", "310,5") }).expect(200);
    expect((await overview()).lines[0]).toMatchObject({ price: 310, ordered: 5, counted: 3 });
    const { body } = await api.call("importOrder", { delivery }, { csv: orderCsv.replace("L1,", "L9,") }).expect(422);
    expect(body.detail).toBe("The new order has no line L1, which leaf W01 belongs to.");
  });

  test("takes a corrected schedule, and refuses one that drops an opening a lock names", async () => {
    await api.leaf(delivery, "W01", "L1", single);
    const locks = [{ leaf: "W01", opening: "1.02", place: 0, turned: null }];
    await api.call("setWishes", { delivery }, { locks, bans: [] }).expect(200);
    const without = (opening: string) =>
      scheduleCsv
        .split("\n")
        .filter((line) => !line.startsWith(opening))
        .join("\n");
    await api.call("importSchedule", { delivery }, { csv: without("1.03") }).expect(200);
    const { body } = await api.call("importSchedule", { delivery }, { csv: without("1.02") }).expect(422);
    expect(body.detail).toMatch(/no 1\.02, which a lock or a ban names/);
  });

  test("keeps readings, and refuses one of a time still to come", async () => {
    const reading = {
      at: "2026-03-03T11:30:00+00:00",
      temperatureC: 18.4,
      humidityPercent: 52,
      place: "stack",
      instrument: "",
      event: "",
    };
    await api.call("logReading", { delivery }, { reading }).expect(200);
    expect((await overview()).store.readings).toMatchObject([{ moisturePercent: 9.6, outside: false }]);
    await api
      .call("logReading", { delivery }, { reading: { ...reading, at: "2026-03-04T11:30:00+00:00" } })
      .expect(422);
  });

  test("changes its terms, and the windows follow", async () => {
    const { terms } = await overview();
    const shorter = {
      ...terms,
      windows: [{ kind: "damage", to: "supplier", amount: 1, unit: "hours", from: "delivery" }],
    };
    await api.call("setTerms", { delivery }, { terms: shorter }).expect(200);
    expect((await overview()).windows).toMatchObject([{ kind: "damage", shut: true }]);
  });

  test("verifies, and its document is what the journal adds up to", async () => {
    await api.leaf(delivery, "W01", "L1", single);
    expect((await api.call("verify", { delivery })).body).toEqual({ sound: true, checked: 7, faults: [] });
    expect((await api.call("document", { delivery })).body).toEqual(site.store.open(delivery).read());
  });
});

describe("deciding about a leaf", () => {
  test("asks for unwrapping, then for both faces; taking back is free", async () => {
    await api.call(
      "addLeaf",
      { delivery },
      { leaf: { code: "W01", line: "L1", pattern: single, identity: "as-ordered", replaces: null } },
    );
    expect((await decide("W01", accept).expect(409)).body.detail).toBe("Unwrap W01 first.");
    await api.call("unwrapLeaf", { delivery, leaf: "W01" }, { at: "2026-03-03T11:00:00+00:00" }).expect(200);
    await api.upload({ delivery }, { shows: [{ leaf: "W01", face: "A", corners: null }] }, "one").expect(200);
    expect((await decide("W01", accept).expect(409)).body.detail).toBe("Photograph both faces of W01 first.");
    await decide("W01", goBack).expect(200);
    await decide("W01", null).expect(200);
    await api.upload({ delivery }, { shows: [{ leaf: "W01", face: "B", corners: null }] }, "two").expect(200);
    await decide("W01", accept).expect(200);
    expect((await overview()).leaves[0]).toMatchObject({ outcome: "accept", faces: { A: "measured", B: "measured" } });
  });

  test("a pair is one unit", async () => {
    await api.leaf(delivery, "P1", "L2", pair);
    await api.leaf(delivery, "P2", "L2", pair);
    await decide("P2", goBack).expect(200);
    expect((await overview()).leaves.map(({ outcome }) => outcome)).toEqual(["return", "return"]);
    expect((await overview()).lines[1]).toMatchObject({ returned: 2, undecided: 0 });
  });

  test("a mark beyond its limit asks for an allowance; with one the money follows", async () => {
    await api.leaf(delivery, "W01", "L1", single);
    const mark = {
      face: "A",
      kind: "dent",
      box: { x: 100, y: 100, w: 20, h: 5 },
      depthMm: 0.5,
      seenFromM: 3,
      photo: null,
      party: null,
      note: "",
      foundBy: "person",
    };
    await api.call("logMark", { delivery, leaf: "W01" }, { mark }).expect(200);
    expect((await decide("W01", accept).expect(409)).body.detail).toMatch(/dent on face A of W01 is beyond its limit/);
    const less = { ...accept, outcome: "accept-with-allowance", reason: "dent", allowance: null };
    await decide("W01", less).expect(422);
    await decide("W01", { ...less, allowance: 1e9 }).expect(422);
    await decide("W01", { ...less, allowance: 45 }).expect(200);
    expect((await overview()).money).toMatchObject({ pay: 255, allowance: 45 });
    const { body: view } = await api.call("leaf", { delivery, leaf: "W01" });
    expect(view.marks).toMatchObject([{ judgement: { verdict: "beyond-limits" } }]);
    await api.call("withdrawMark", { delivery, mark: view.marks[0].mark.id }, {}).expect(200);
    expect((await api.call("leaf", { delivery, leaf: "W01" })).body.marks).toEqual([]);
  });

  test("what was not ordered is not accepted, and what is accepted is not called wrong", async () => {
    await api.leaf(delivery, "W01", "L1", single);
    await api.call("identifyLeaf", { delivery, leaf: "W01" }, { identity: "over" }).expect(200);
    expect((await decide("W01", accept).expect(409)).body.detail).toMatch(/to use it is to accept it/);
    await api.call("identifyLeaf", { delivery, leaf: "W01" }, { identity: "as-ordered" }).expect(200);
    await decide("W01", accept).expect(200);
    await api.call("identifyLeaf", { delivery, leaf: "W01" }, { identity: "wrong" }).expect(409);
  });

  test("a mark must lie on the face, a code is given once, a leaf is unwrapped once", async () => {
    await api.leaf(delivery, "W01", "L1", single);
    const mark = {
      face: "A",
      kind: "dent",
      box: { x: 820, y: 100, w: 20, h: 5 },
      depthMm: null,
      seenFromM: null,
      photo: null,
      party: null,
      note: "",
      foundBy: "person",
    };
    const off = await api.call("logMark", { delivery, leaf: "W01" }, { mark }).expect(422);
    expect(off.body.detail).toBe("The mark does not lie on the face, which is 826 x 2040 mm.");
    await api
      .call(
        "addLeaf",
        { delivery },
        { leaf: { code: "W01", line: "L1", pattern: single, identity: "as-ordered", replaces: null } },
      )
      .expect(409);
    await api.call("unwrapLeaf", { delivery, leaf: "W01" }, { at: "2026-03-03T12:00:00+00:00" }).expect(409);
  });

  test("shape readings are kept and judged", async () => {
    await api.leaf(delivery, "W01", "L1", single);
    const reading = { at: "2026-03-03T11:30:00+00:00", kind: "bow", mm: 7, how: "string line" };
    await api.call("logShape", { delivery, leaf: "W01" }, { reading }).expect(200);
    const { body } = await api.call("leaf", { delivery, leaf: "W01" });
    expect(body.whyNot.accept).toMatch(/bow 7 mm ± 0.5, agreed limit 6 mm: beyond/);
    expect(body.whyNot.hold).toBeNull();
  });
});

describe("photos", () => {
  test("the same bytes are one photo; nothing is left in the temporary folder", async () => {
    const first = await api.upload({ delivery }, {}, "photo").expect(200);
    expect(first.body.known).toBe(false);
    const all = await Promise.all(Array.from({ length: 5 }, () => api.upload({ delivery }, {}, "photo")));
    expect(all.map(({ body }) => [body.id, body.known])).toEqual(all.map(() => [first.body.id, true]));
    expect(site.store.open(delivery).read().photos.length).toBe(1);
    expect(await readdir(site.store.open(delivery).temporaryFolder)).toEqual([]);
  });

  test("the same photo for another leaf: evidence is filed under both, a face to be measured is refused", async () => {
    for (const code of ["W01", "W02"]) await api.leaf(delivery, code, "L1", single);
    const of = (leaf: string) => [{ leaf, face: "A", corners: null }] as const;
    await api.upload({ delivery }, { kind: "stack", shows: [...of("W01")] }, "stack").expect(200);
    await api.upload({ delivery }, { kind: "stack", shows: [...of("W02")] }, "stack").expect(200);
    await api.upload({ delivery }, { kind: "single", shows: [...of("W01")] }, "face").expect(200);
    const wrong = await api.upload({ delivery }, { kind: "single", shows: [...of("W02")] }, "face").expect(409);
    expect(wrong.body.detail).toBe("This very photo is filed under W01 face A already. Take one of W02 face A.");
    const { photos } = site.store.open(delivery).read();
    const stacks = photos.filter(({ kind }) => kind === "stack");
    expect(stacks.map(({ shows }) => shows.map(({ leaf }) => leaf))).toEqual([["W01", "W02"]]);
  });

  test("five of the same at once are one photo too", async () => {
    const all = await Promise.all(Array.from({ length: 5 }, () => api.upload({ delivery }, {}, "photo")));
    expect(all.map(({ status }) => status)).toEqual([200, 200, 200, 200, 200]);
    expect(site.store.open(delivery).read().photos.length).toBe(1);
  });

  test("other bytes than the hash says, and files that are no photo, are refused and not kept", async () => {
    const other = await api.upload({ delivery }, { sha256: "0".repeat(64) }, "photo").expect(422);
    expect(other.body.detail).toBe("The photo arrived with other bytes than were sent: send it again.");
    await api.upload({ delivery }, { shows: [{ leaf: "W99", face: "A", corners: null }] }, "photo").expect(404);
    expect(site.store.open(delivery).read().photos).toEqual([]);
    expect(await readdir(site.store.open(delivery).temporaryFolder)).toEqual([]);
    expect(await readdir(join(site.folder, "deliveries", delivery, "photos"))).toEqual([]);
  });

  test("are filed anew, and served so that a browser runs nothing", async () => {
    await api.leaf(delivery, "W01", "L1", single);
    const { id } = site.store.open(delivery).read().photos[0] ?? { id: "" };
    await api
      .call(
        "filePhoto",
        { delivery, photo: id },
        { kind: "detail", shows: [{ leaf: "W01", face: "B", corners: null }], note: "corner" },
      )
      .expect(200);
    expect(site.store.open(delivery).read().photos[0]).toMatchObject({ kind: "detail", note: "corner" });
    const original = await api.call("photoOriginal", { delivery, photo: id }).expect(200);
    expect(original.headers["content-security-policy"]).toBe("default-src 'none'; sandbox");
    expect(original.headers["content-disposition"]).toMatch(/^attachment/);
    expect(original.headers["x-content-type-options"]).toBe("nosniff");
    expect(original.body.toString()).toBe("W01 A");
    expect((await api.call("photoPreview", { delivery, photo: id })).headers["content-type"]).toBe("image/jpeg");
    await api.call("photoOriginal", { delivery, photo: "0".repeat(64) }).expect(404);
    await api.call("photoOriginal", { delivery, photo: "../../journal.jsonl" }).expect(404);
  });
});
