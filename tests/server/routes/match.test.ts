import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { type Api, apiOf } from "../../support/http.ts";
import { by } from "../../support/small-delivery.ts";
import { type TestSite, testSite } from "../../support/test-site.ts";

const single = "FL-2040X826";
const hold = { outcome: "hold", reason: "look again", allowance: null, party: null, asks: null };
const corridorFaces = {
  "W01/A": 40,
  "W01/B": 60,
  "W02/A": 70,
  "W02/B": 41,
  "W03/A": 42,
  "W03/B": 80,
  "W04/A": 90,
  "W04/B": 91,
};

let site: TestSite;
let api: Api;
let delivery: string;

beforeEach(async () => {
  site = await testSite({
    lightness: corridorFaces,
    cuts: [{ kind: "face", what: "figure", one: "crown", other: "straight" }],
  });
  api = apiOf(site);
  delivery = await api.begin();
  for (const code of ["W01", "W02", "W03", "W04"]) await api.leaf(delivery, code, "L1", single);
});
afterEach(async () => {
  await site.remove();
  expect(api.faults).toEqual([]);
});

const plan = () => api.call("planAllotment", { delivery }, {});
const wish = (wishes: object) => api.call("setWishes", { delivery }, { locks: [], bans: [], ...wishes });
const corridor = (body: {
  spaces: { space: { name: string }; places: { leaf: string; face: string; opening: string }[] }[];
}) => body.spaces.find(({ space }) => space.name === "Corridor")?.places ?? [];

test("differing cuts in a space are told beside its colour", async () => {
  const { body } = await plan().expect(200);
  const [a, b, c] = corridor(body).map(({ leaf, face }) => `${leaf} ${face}`);
  const space = body.spaces.find((one: { space: { name: string } }) => one.space.name === "Corridor");
  expect(space.cuts).toHaveLength(1);
  expect(space.cuts[0]).toMatch(/^Cut: crown on .*, straight on .*\.$/);
  for (const face of [a, b, c]) expect(space.cuts[0]).toContain(face);
});

test("a hand sees in one answer which leaf goes where and how its parts lie", async () => {
  await plan().expect(200);
  const { body } = await api.as("hand").call("match", { delivery }).expect(200);
  const patternOf = new Map(body.leaves.map((leaf: { code: string; pattern: string }) => [leaf.code, leaf.pattern]));
  const ids = body.patterns.map(({ id }: { id: string }) => id);
  const came = corridor(body).filter(({ leaf }) => leaf?.startsWith("W"));
  expect(came.length).toBeGreaterThan(1);
  for (const { leaf } of came) expect(ids, leaf).toContain(patternOf.get(leaf));
});

test("photos remember who took them, and how repeatable they are is answered beside what to photograph", async () => {
  const { body: document } = await api.call("document", { delivery }).expect(200);
  expect(new Set(document.photos.map((photo: { by: string }) => photo.by))).toEqual(new Set([by.name]));
  const { body } = await api.call("repeat", { delivery }).expect(200);
  expect(body).toMatchObject({ ways: [], gauges: [], phones: ["Brannoch P1"], people: [by.name] });
  expect(body.toShoot[0]).toMatch(/^Photograph one face of three leaves/);
  await api.call("repeat", { delivery: "nosuch" }).expect(404);
});

/** What a difference counts for more than measured: its 95 % half-width of 0.4, at a one-sided confidence of 0.95. */
const upper = (0.4 * 1.6449) / 1.96;

describe("the allotment", () => {
  test("turns leaves so that the corridor matches; leaves not delivered leave the pair's opening empty", async () => {
    const { body } = await plan().expect(200);
    expect(
      corridor(body)
        .slice(0, 3)
        .map(({ leaf, face }) => `${leaf}${face}`)
        .sort(),
    ).toEqual(["W01A", "W02B", "W03A"]);
    expect(
      corridor(body)
        .slice(3)
        .map(({ leaf }) => leaf),
    ).toEqual([null, null]);
    const { plan: together, bound, proven, forcedBy, settled, pair } = body.figures;
    expect(together.worst).toBeCloseTo(2 + upper, 4);
    expect(together.spacesOver).toBe(1);
    expect([bound, settled[0], proven]).toEqual([together.worst, together.worst, true]);
    expect(forcedBy).toBe("Corridor: W01 face A at 1.01 with W03 face A at 1.03.");
    expect(pair).toEqual({ space: "CORRIDOR", one: { leaf: "W01", face: "A" }, other: { leaf: "W03", face: "A" } });
    expect(body.spare).toEqual(["W04"]);
    expect((await api.call("match", { delivery })).body).toEqual(body);
  });

  test("keeps locks with their turn, and what is kept out", async () => {
    await wish({
      locks: [{ leaf: "W04", opening: "1.02", place: 0, turned: true }],
      bans: [{ leaf: "W01", opening: null, space: "CORRIDOR", why: "scuff" }],
    }).expect(200);
    const { body } = await plan().expect(200);
    expect(corridor(body)[1]).toMatchObject({ leaf: "W04", face: "B", turned: true, locked: true });
    expect(body.spare).toEqual(["W01"]);
  });

  test("says which opening lacks what when there is no plan, and the plan before it stays", async () => {
    const before = (await plan().expect(200)).body.plannedAt;
    const bans = ["W01", "W02", "W03", "W04"].map((leaf) => ({ leaf, opening: "1.02", space: null, why: "" }));
    await wish({ bans }).expect(200);
    const { body } = await plan().expect(409);
    expect(body.faults).toMatchObject([{ at: "1.02" }]);
    expect(body.detail).toMatch(/no plan for all openings\. 1\.02: /);
    expect((await api.call("match", { delivery })).body.plannedAt).toBe(before);
  });

  test("leaves awaited from the supplier let the least seen opening wait", async () => {
    for (const leaf of ["W01", "W02"]) await api.call("decideLeaf", { delivery, leaf }, { decision: hold }).expect(200);
    const { body } = await plan().expect(200);
    expect(
      corridor(body)
        .slice(0, 3)
        .map(({ leaf }) => leaf)
        .filter((leaf) => leaf !== null)
        .sort(),
    ).toEqual(["W03", "W04"]);
    expect(corridor(body)[2]?.leaf).toBeNull(); // 1.03 looks like the others into the corridor and is the last of them
  });

  test.each([
    [{ leaf: "W01", opening: "1.04", place: 0, turned: null }, /was not ordered for 1\.04/],
    [{ leaf: "W01", opening: "1.01", place: 1, turned: null }, /has one leaf only/],
    [{ leaf: "W01", opening: "9.99", place: 0, turned: null }, /no opening 9\.99/],
  ])("a lock that cannot be is refused: %j", async (lock, says) => {
    expect((await wish({ locks: [lock] }).expect(422)).body.detail).toMatch(says);
  });

  test("a leaf locked and then held stops planning with a sentence", async () => {
    await wish({ locks: [{ leaf: "W01", opening: "1.01", place: 0, turned: null }] }).expect(200);
    await api.call("decideLeaf", { delivery, leaf: "W01" }, { decision: hold }).expect(200);
    expect((await plan().expect(409)).body.detail).toBe(
      "W01 is locked to 1.01 and cannot hang there any more: take the lock back.",
    );
  });

  test.each([
    ["A", "B", false],
    ["B", "A", true],
  ])("face %s accepted with a mark looks into the room, unless a person turned it", async (face, other, turned) => {
    await site.remove();
    site = await testSite({ lightness: { "W01/A": 60, "W01/B": 60 } });
    api = apiOf(site);
    delivery = await api.begin();
    for (const code of ["W01", "W02", "W03"]) await api.leaf(delivery, code, "L1", single);
    const mark = {
      face,
      kind: "dent",
      box: { x: 100, y: 100, w: 4, h: 4 },
      depthMm: null,
      seenFromM: null,
      photo: null,
      party: null,
      note: "",
      foundBy: "person",
    };
    await api.call("logMark", { delivery, leaf: "W01" }, { mark }).expect(200);
    const decision = { outcome: "accept", reason: "", allowance: null, party: null, asks: null };
    await api.call("decideLeaf", { delivery, leaf: "W01" }, { decision }).expect(200);
    const hung = async (way: boolean | null) => {
      await wish({ locks: [{ leaf: "W01", opening: "1.01", place: 0, turned: way }] }).expect(200);
      return corridor((await plan().expect(200)).body)[0];
    };
    expect(await hung(null)).toMatchObject({ leaf: "W01", face: other });
    expect(await hung(turned)).toMatchObject({ leaf: "W01", face });
  });

  test("an accepted leaf in its place is ready to hang", async () => {
    await plan();
    const decision = { outcome: "accept", reason: "", allowance: null, party: null, asks: null };
    await api.call("decideLeaf", { delivery, leaf: "W02" }, { decision }).expect(200);
    const { body } = await api.call("overview", { delivery });
    expect(body.readyToHang).toMatchObject([{ leaf: "W02" }]);
  });

  test("faces that cannot be compared are said to be so, and no bound is claimed", async () => {
    await site.remove();
    site = await testSite({ lightness: { "W01/A": 40 } });
    api = apiOf(site);
    delivery = await api.begin();
    for (const code of ["W01", "W02", "W03"]) await api.leaf(delivery, code, "L1", single);
    const { body } = await plan().expect(200);
    expect(body.figures).toMatchObject({
      plan: { worst: 0 },
      bound: 0,
      proven: false,
      forcedBy: "3 pairs of faces could not be compared.",
    });
    expect(body.cannotTell.length).toBe(3);
  });
});
