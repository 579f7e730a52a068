import { writeFile } from "node:fs/promises";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import type { Reply } from "../../../server/contract/calls.ts";
import type { CallName } from "../../../server/contract/paths.ts";
import type { Darkroom } from "../../../server/site.ts";
import { type Api, apiOf } from "../../support/http.ts";
import { brownJpeg } from "../../support/photo-files.ts";
import { type TestSite, testSite } from "../../support/test-site.ts";

let site: TestSite;
let foreman: Api;
let hand: Api;
let delivery: string;
const pattern = "FL-2040X826";

beforeEach(async () => {
  site = await testSite();
  const jpeg = await brownJpeg(300, 200);
  const darkroom: Darkroom = {
    ...site.darkroom,
    preview: async () => jpeg,
    crop: async () => jpeg,
    supplierCopy: async (_, to) => {
      await writeFile(to, jpeg);
      return { bytes: jpeg.length, removed: ["position"] };
    },
  };
  foreman = apiOf({ ...site, darkroom });
  hand = foreman.as("hand");
  delivery = await foreman.begin();
});
afterEach(() => site.remove());

const history = async (api: Api, leaf: string): Promise<string[]> =>
  ((await api.call("leafHistory", { delivery, leaf }).expect(200)).body as Reply<"leafHistory">).map(
    ({ what }) => what,
  );

describe("an issued record", () => {
  beforeEach(async () => {
    await foreman.leaf(delivery, "W01", "L1", pattern);
    const decision = { outcome: "accept", reason: "", allowance: null, party: null, asks: null };
    await foreman.call("decideLeaf", { delivery, leaf: "W01" }, { decision }).expect(200);
  });

  test("A16: one request sent twenty times at once is answered with one number, and the next one has no gap before it", async () => {
    const body = { kind: "accept", leaves: ["W01"], revises: null, requestId: "01J00000000000000000000016" };
    const answers = await Promise.all(
      Array.from({ length: 20 }, () => foreman.call("issueRecord", { delivery }, body).expect(200)),
    );
    expect(new Set(answers.map((answer) => answer.body.number))).toEqual(new Set([1]));
    const revision = { kind: "accept", leaves: ["W01"], revises: 1, requestId: "01J00000000000000000000017" };
    expect((await foreman.call("issueRecord", { delivery }, revision).expect(200)).body.number).toBe(2);
    expect(foreman.faults).toEqual([]);
  });

  test("is seen by its guest with all its files, and no other record is", async () => {
    const issue = { kind: "accept", leaves: ["W01"], revises: null };
    await foreman.call("issueRecord", { delivery }, issue).expect(200);
    await foreman.call("issueRecord", { delivery }, { ...issue, revises: 1 }).expect(200);
    const guest = foreman.as("guest");
    const first = { delivery, number: "1" };
    const { body } = await guest.call("record", first).expect(200);
    expect(body).toMatchObject({ number: 1, leaves: ["W01"], by: "R. Tester" });
    expect(body.headSha256).toBe(site.store.open(delivery).read().records[0]?.jsonSha256);
    for (const [name, type, params] of [
      ["recordPdf", /pdf/, first],
      ["recordJson", /json/, first],
      ["recordZip", /zip/, first],
      ["recordCopy", /jpeg/, { ...first, copy: "photo-001.jpg" }],
    ] as const) {
      expect((await guest.call(name, params).expect(200)).headers["content-type"]).toMatch(type);
      await guest.call(name, { ...params, number: "2" }).expect(404);
    }
    for (const name of ["returns", "overview", "history", "recordLetter"] as CallName[])
      expect([403, 404]).toContain((await guest.call(name, first)).status);
    expect((await hand.call("recordLetter", first).expect(200)).text).toContain(body.headSha256);
    expect((await hand.call("recordMail", first).expect(200)).headers["content-disposition"]).toContain("record-1.eml");
    await guest.call("recordCopy", { ...first, copy: "photo-009.jpg" }).expect(404);
  });
});

describe("the history", () => {
  test("can be asked by leaf, whatever came and went before it", async () => {
    const leaf = { line: "L1", pattern, identity: "as-ordered", replaces: null };
    const { seq } = (await foreman.call("addLeaf", { delivery }, { leaf: { ...leaf, code: "W07" } }).expect(200)).body;
    await foreman.call("undo", { delivery }, { seq }).expect(200);
    await foreman.leaf(delivery, "W01", "L1", pattern);
    await foreman.leaf(delivery, "W02", "L1", pattern);
    const box = { x: 10, y: 10, w: 20, h: 20 };
    const about = { face: "A", kind: "dent", box, depthMm: null, seenFromM: null, photo: null, party: null };
    const mark = { ...about, foundBy: "person", note: "" };
    await hand.call("logMark", { delivery, leaf: "W02" }, { mark }).expect(200);
    await hand.call("waveOff", { delivery, leaf: "W01" }, { face: "A", box }).expect(200);
    expect(await history(hand, "W01")).toEqual([
      "W01 face A: a place the photo proposed is no mark",
      "Photo x.jpg",
      "Photo x.jpg",
      "Unwrapped W01",
      "Added leaf W01",
    ]);
    expect((await history(hand, "W02"))[0]).toMatch(/dent/i);
    await hand.call("leafHistory", { delivery, leaf: "W07" }).expect(404);
  });

  test("a hand takes back what it entered itself, a foreman anything", async () => {
    const count = (api: Api, counted: number) =>
      api.call("countLine", { delivery, line: "L1" }, { counted }).expect(200);
    const theirs = (await count(foreman, 3)).body.seq;
    expect((await hand.call("undo", { delivery }, { seq: theirs }).expect(403)).body.detail).toMatch(
      /R. Tester entered/,
    );
    const own = (await count(hand, 4)).body.seq;
    await hand.call("undo", { delivery }, { seq: own }).expect(200);
    const again = (await count(hand, 2)).body.seq;
    await foreman.call("undo", { delivery }, { seq: again }).expect(200);
    expect(site.store.open(delivery).read().lines[0]?.counted).toBe(3);
  });
});

describe("leaves of a counted line", () => {
  const add = (line: string) => hand.call("addLeavesOfLine", { delivery, line }, {});
  const count = (line: string, counted: number) => hand.call("countLine", { delivery, line }, { counted }).expect(200);

  test("are as many as were counted and go on from those there are", async () => {
    expect((await add("L1").expect(409)).body.detail).toBe("Count line L1 first.");
    await count("L1", 3);
    expect((await add("L1").expect(200)).body.leaves).toEqual(["L1-01", "L1-02", "L1-03"]);
    await add("L1").expect(409);
    await count("L1", 4);
    expect((await add("L1").expect(200)).body.leaves).toEqual(["L1-04"]);
    await count("L2", 2);
    await add("L2").expect(200);
    const pairs = site.store
      .open(delivery)
      .read()
      .leaves.filter(({ line }) => line === "L2");
    expect(pairs.map(({ code, pairWith }) => [code, pairWith])).toEqual([
      ["L2-01", "L2-02"],
      ["L2-02", "L2-01"],
    ]);
    expect(
      new Set(
        site.store
          .open(delivery)
          .read()
          .leaves.map(({ labelId }) => labelId),
      ).size,
    ).toBe(6);
  });
});
