import { afterEach, beforeEach, expect, test } from "vitest";
import { type Api, apiOf } from "../../support/http.ts";
import { scheduleCsv } from "../../support/small-delivery.ts";
import { type TestSite, testSite } from "../../support/test-site.ts";

const sight = { meeting: 2, beside: 1, across: 0.5, apart: 0.3 };
const look = { weight: 1, walls: [["1.03", "1.01", "1.02"]], gentle: null, noLightBesideDark: false, marksCount: 1 };

let site: TestSite;
let api: Api;
let delivery: string;

beforeEach(async () => {
  site = await testSite({
    lightness: { "W01/A": 60, "W01/B": 10, "W02/A": 62, "W02/B": 30, "W03/A": 64, "W03/B": 95 },
  });
  api = apiOf(site);
  delivery = await api.begin();
});
afterEach(async () => {
  await site.remove();
  expect(api.faults).toEqual([]);
});

const set = (spaces: object[]) => api.call("setSight", { delivery }, { sight, spaces });
const match = async () => (await api.call("match", { delivery }).expect(200)).body;
const lookOf = (view: Awaited<ReturnType<typeof match>>, id: string) =>
  view.spaces.find(({ space }: { space: { id: string } }) => space.id === id).space.look;

test("the usual weights count until others are set, and the change is one that can be undone", async () => {
  expect((await match()).sight).toEqual({ meeting: 1.5, beside: 1, across: 0.7, apart: 0.4 });
  const { body } = await set([{ id: "CORRIDOR", look }]).expect(200);
  const after = await match();
  expect(after.sight).toEqual(sight);
  expect(lookOf(after, "CORRIDOR")).toEqual(look);
  await api.call("undo", { delivery }, { seq: body.seq }).expect(200);
  expect(lookOf(await match(), "CORRIDOR")).toBeUndefined();
});

test("a space not named keeps its look, and null takes a look away", async () => {
  await set([{ id: "CORRIDOR", look }]).expect(200);
  await set([]).expect(200);
  expect(lookOf(await match(), "CORRIDOR")).toEqual(look);
  await set([{ id: "CORRIDOR", look: null }]).expect(200);
  expect(lookOf(await match(), "CORRIDOR")).toBeUndefined();
});

test("the plan follows the walls: the leaf between the two others in lightness hangs between them", async () => {
  for (const code of ["W01", "W02", "W03"]) await api.leaf(delivery, code, "L1", "FL-2040X826");
  await set([{ id: "CORRIDOR", look }]).expect(200);
  const { body } = await api.call("planAllotment", { delivery }, {}).expect(200);
  const places = body.spaces.find(({ space }: { space: { id: string } }) => space.id === "CORRIDOR").places;
  expect(places.find(({ opening }: { opening: string }) => opening === "1.01").leaf).toBe("W02");
});

test.each([
  [{ id: "NOSUCH", look }, "There is no space NOSUCH in the schedule."],
  [{ id: "NOSUCH", look: null }, "There is no space NOSUCH in the schedule."],
  [{ id: "CORRIDOR", look: { ...look, walls: [["9.99"]] } }, "There is no opening 9.99 in the schedule."],
  [{ id: "OFFICE-1", look }, "1.03 does not look into Office 1: take it off its walls."],
  [
    { id: "CORRIDOR", look: { ...look, walls: [["1.01"], ["1.02", "1.01"]] } },
    "1.01 stands twice on the walls of Corridor: name it once.",
  ],
])("what cannot stand on a wall is refused by name: %j", async (space, says) => {
  expect((await set([space]).expect(422)).body.detail).toBe(says);
  expect((await match()).sight).not.toEqual(sight);
});

test.each([
  [{ ...look, weight: -1 }],
  [{ ...look, marksCount: 2 }],
  [{ ...look, gentle: "brighter" }],
  [{ ...look, walls: [["../1.01"]] }],
])("a look out of range is refused with its place: %j", async (bad) => {
  expect((await set([{ id: "CORRIDOR", look: bad }]).expect(400)).body.faults[0].at).toMatch(/^spaces\.0\.look\./);
});

test("a corrected schedule keeps how spaces are looked at, without openings that went", async () => {
  await set([{ id: "CORRIDOR", look }]).expect(200);
  const csv = scheduleCsv.replace(/^1\.03.*\n/m, "");
  await api.call("importSchedule", { delivery }, { csv }).expect(200);
  expect(lookOf(await match(), "CORRIDOR")).toEqual({ ...look, walls: [["1.01", "1.02"]] });
});
