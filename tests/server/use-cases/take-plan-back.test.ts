import { afterEach, beforeEach, expect, test } from "vitest";
import { type Api, apiOf } from "../../support/http.ts";
import { by } from "../../support/small-delivery.ts";
import { type TestSite, testSite } from "../../support/test-site.ts";

const hold = { outcome: "hold", reason: "look again", allowance: null, party: null, asks: null };
const lightness = {
  "W01/A": 60,
  "W01/B": 61,
  "W02/A": 62,
  "W02/B": 63,
  "W03/A": 64,
  "W03/B": 65,
  "W04/A": 66,
  "W04/B": 67,
};

let site: TestSite;
let api: Api;
let delivery: string;

beforeEach(async () => {
  site = await testSite({ lightness });
  api = apiOf(site);
  delivery = await api.begin();
  for (const code of ["W01", "W02", "W03", "W04"]) await api.leaf(delivery, code, "L1", "FL-2040X826");
});
afterEach(async () => {
  await site.remove();
  expect(api.faults).toEqual([]);
});

const plan = async () => (await api.call("planAllotment", { delivery }, {}).expect(200)).body;
const back = () => api.call("takePlanBack", { delivery }, {});
const ban = (leaf: string) =>
  api.call("setWishes", { delivery }, { locks: [], bans: [{ leaf, opening: null, space: "CORRIDOR", why: "" }] });
const lock = (leaf: string, opening: string) =>
  api.call("setWishes", { delivery }, { locks: [{ leaf, opening, place: 0, turned: null }], bans: [] });
const kept = async () => (await api.call("document", { delivery })).body.allotment;

test("a new plan keeps the one before it; taking it back changes the two about", async () => {
  const first = await plan();
  expect(first.before).toBeNull();
  const hung = (await kept()).plan;
  await ban("W01").expect(200);
  site.setNow("2026-03-03T13:00:00+00:00");
  const second = await plan();
  expect(second.before).toEqual({ places: hung, plannedAt: first.plannedAt, figures: first.figures });
  const { body } = await back().expect(200);
  expect((await kept()).plan).toEqual(hung);
  expect(body).toMatchObject({ plannedAt: first.plannedAt, figures: first.figures });
  expect(body.before).toMatchObject({ plannedAt: second.plannedAt, figures: second.figures });
  expect({ ...(await back().expect(200)).body, seq: second.seq }).toEqual(second);
});

test("refused when there is none, or a leaf of it is held, locked elsewhere or cut", async () => {
  expect((await back().expect(409)).body.detail).toBe("There is no plan before this one.");
  await plan();
  const [first] = (await kept()).plan;
  await ban(first.leaf).expect(200);
  await plan();
  const elsewhere = ["1.01", "1.02", "1.03"].find((id) => id !== first.opening)!;
  await lock(first.leaf, elsewhere).expect(200);
  const says = (why: string) => `The plan before cannot be taken back: ${why}. Plan again.`;
  expect((await back().expect(409)).body.detail).toBe(says(`${first.leaf} is locked to ${elsewhere}`));
  await api.call("setWishes", { delivery }, { locks: [], bans: [] }).expect(200);
  const now = (await kept()).plan;
  const moved = now.find((one: { leaf: string; opening: string }) => one.leaf !== first.leaf);
  await site.store.open(delivery).change(by, "Cut a leaf", (draft) => {
    const { before } = draft.allotment;
    if (before) before.plan = before.plan.filter(({ leaf }) => leaf !== moved.leaf);
    for (const leaf of draft.leaves) if (leaf.code === moved.leaf) leaf.cut = true;
  });
  expect((await back().expect(409)).body.detail).toBe(says(`${moved.leaf} is cut for ${moved.opening}`));
  await api.call("decideLeaf", { delivery, leaf: first.leaf }, { decision: hold }).expect(200);
  expect((await back().expect(409)).body.detail).toBe(says(`${first.leaf} cannot hang any more`));
});
