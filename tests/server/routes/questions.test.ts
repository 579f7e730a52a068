import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { openProcessPool } from "../../../server/workers/process-pool.ts";
import { type Api, apiOf } from "../../support/http.ts";
import { type TestSite, testSite } from "../../support/test-site.ts";

/** W03 is far from the others on both faces; W04 is between them. */
const lightness = {
  "W01/A": 60,
  "W01/B": 60.5,
  "W02/A": 61,
  "W02/B": 61.5,
  "W03/A": 70,
  "W03/B": 72,
  "W04/A": 60.8,
  "W04/B": 64,
};

/** What a difference counts for more than measured: its 95 % half-width of 0.4, at a one-sided confidence of 0.95. */
const upper = (0.4 * 1.6449) / 1.96;

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

const held = { outcome: "hold", reason: "look again", allowance: null, party: null, asks: null };
const plan = () => api.call("planAllotment", { delivery }, {}).expect(200);
const outOfReach = (leaf: string) => ({ leaf, opening: null, space: "CORRIDOR", why: "" });

describe("questions about the allotment", () => {
  test("which leaves to return: none while a spare does, the strange one when it must hang", async () => {
    const none = await api.call("askReturns", { delivery }, { tolerance: null }).expect(200);
    expect(none.body).toMatchObject({ tolerance: 2, bound: 0, proven: true, replace: [] });
    await api.call("setWishes", { delivery }, { locks: [], bans: [outOfReach("W04")] }).expect(200);
    const { body } = await api.call("askReturns", { delivery }, { tolerance: 2 }).expect(200);
    expect(body).toMatchObject({ bound: 1, proven: true, replace: [{ returned: "W03" }] });
    expect(body.worst).toBeCloseTo(0.5 + upper, 4);
    expect(body.replace[0].like.worst).toBeLessThanOrEqual(2);
  });

  test("leaves that are held and clash are named", async () => {
    const lock = (leaf: string, opening: string) => ({ leaf, opening, place: 0, turned: null });
    await api
      .call("setWishes", { delivery }, { locks: [lock("W01", "1.01"), lock("W03", "1.02")], bans: [] })
      .expect(200);
    const { body } = await api.call("askReturns", { delivery }, { tolerance: null }).expect(409);
    expect(body.detail).toBe(
      "Leaves that are held differ by more than 2 among themselves: W01 in 1.01, W03 in 1.02. Let one go and ask again.",
    );
  });

  test("a leaf is late: no opening waits while there is a spare; one does without it", async () => {
    const { body } = await api.call("askLate", { delivery }, { leaf: "W01" }).expect(200);
    expect(body).toEqual({ leaf: "W01", waiting: null });
    const refused = await api.call("askLate", { delivery }, { leaf: "W09" }).expect(422);
    expect(refused.body.detail).toMatch(/^W09 is not among the leaves that can hang/);
  });

  test("after a leaf is held back, the spare takes its place and the others stay", async () => {
    const { body: before } = await plan();
    expect(before.spare).toEqual(["W03"]);
    await api.call("decideLeaf", { delivery, leaf: "W01" }, { decision: held }).expect(200);
    const { body } = await api.call("askMoves", { delivery }, { loss: 20 }).expect(200);
    expect(body.chosen).toMatchObject({ changed: 0, proven: true, moved: [{ leaf: "W03", from: null }] });
    const { body: after } = await api.call("planFewMoves", { delivery }, { loss: 20 }).expect(200);
    const hung = (view: typeof before) =>
      view.spaces.flatMap(({ places }: { places: { opening: string; leaf: string }[] }) =>
        places.filter(({ leaf }) => leaf === "W02" || leaf === "W04"),
      );
    expect(hung(after).map(({ opening }: { opening: string }) => opening)).toEqual(
      hung(before).map(({ opening }: { opening: string }) => opening),
    );
    expect(after.figures.plan.worst).toBeGreaterThan(5);
  });

  test("holding the spare in an opening: what it costs and who moves", async () => {
    await plan();
    const wish = { leaf: "W03", opening: "1.01", turned: null, loss: 0 };
    const { body } = await api.call("askWhatIf", { delivery }, wish).expect(200);
    expect(body.now.worst).toBeCloseTo(0.5 + upper, 4);
    expect(body.wished.worst).toBeCloseTo(8.5 + upper, 4);
    expect(body.least.moved.map(({ leaf }: { leaf: string }) => leaf)).toContain("W03");
    const { body: refused } = await api.call("askWhatIf", { delivery }, { ...wish, opening: "1.04" }).expect(422);
    expect(refused.detail).toMatch(/^W03 cannot be locked to 1\.04: .*was not ordered for 1\.04/);
  });

  test("what would lift the worst: letting a lock go, by name", async () => {
    const locks = [{ leaf: "W03", opening: "1.01", place: 0, turned: null }];
    await api.call("setWishes", { delivery }, { locks, bans: [] }).expect(200);
    const { body } = await api.call("askLift", { delivery }, {}).expect(200);
    expect(body.worst).toBeCloseTo(8.5 + upper, 4);
    expect([body.pair.one, body.pair.other].map(({ leaf }) => leaf)).toContain("W03");
    const go = body.lifts.find((lift: { by: string }) => lift.by === "let-go");
    expect(go).toMatchObject({ leaf: "W03", opening: "1.01", space: null });
    expect(go.worst).toBeCloseTo(0.5 + upper, 4);
    await api.call("askLift", { delivery: "nosuch" }, {}).expect(404);
  });

  test("how sure the plan is: refused without one, else space by space and leaf by leaf", async () => {
    const refused = await api.call("askSureness", { delivery }, {}).expect(409);
    expect(refused.body.detail).toBe("There is no plan to be sure of yet. Plan the allotment first.");
    await plan();
    const { body } = await api.call("askSureness", { delivery }, {}).expect(200);
    expect(body.tolerance).toBe(2);
    const corridor = body.spaces.find(({ space }: { space: string }) => space === "CORRIDOR");
    expect(corridor).toMatchObject({ worst: 0.5, sure: "inside" });
    expect(corridor.high).toBeCloseTo(0.9, 9);
    expect(body.leaves.length).toBeGreaterThan(0);
    expect(body.photo).toBeNull();
  });

  test("what a new leaf must look like: range, swatch and words against a delivered face", async () => {
    await plan();
    const { body } = await api.call("askReplacement", { delivery, opening: "1.03", place: "0" }).expect(200);
    expect(body.looks).toHaveLength(1);
    const [look] = body.looks;
    expect(look).toMatchObject({ space: "Corridor", part: "face", knownWithin: 0.4 });
    expect(look.swatch).toMatch(/^#[0-9a-f]{6}$/);
    expect(look.ranges[0][0]).toBeLessThan(look.lab[0]);
    expect(look.like.words).toMatch(/than$|^the same as$/);
    await api.call("askReplacement", { delivery, opening: "9.99", place: "0" }).expect(404);
    await api.call("askReplacement", { delivery, opening: "1.01", place: "1" }).expect(404);
  });
});

test("a question is answered in a child process", { timeout: 30_000 }, async () => {
  const pool = openProcessPool(1);
  const problem = {
    leaves: [],
    openings: [],
    spaces: [],
    existing: [],
    locks: [],
    bans: [],
    differences: { faces: [], deltaE: [] },
    meetingWeight: 1,
    notComparedAs: 2,
    mayStayEmpty: [],
  };
  const question = { kind: "returns", problem, tolerance: 2 } as const;
  expect(await pool.run({ kind: "question", question })).toMatchObject({ kind: "returns", replace: [] });
  await pool.close();
});
