import { afterEach, beforeEach, expect, test } from "vitest";
import { allot } from "../../../analysis/allot/allot.ts";
import { seenDifferences } from "../../../analysis/allot/seen-differences.ts";
import type { PlanningProgress } from "../../../server/site.ts";
import { openPlanning } from "../../../server/workers/planning.ts";
import { instance } from "../../bench/allotment-instances.ts";

/** Proven in a blink. */
const small = instance(8, 3);
/** Takes longer than a test may. */
const long = instance(120, 3);

let planning: ReturnType<typeof openPlanning>;
let heard: { delivery: string; progress: PlanningProgress | null }[];

beforeEach(() => {
  planning = openPlanning();
  heard = [];
  planning.onProgress((delivery, progress) => heard.push({ delivery, progress }));
});
afterEach(() => planning.close());

test("a plan is the one made in this process, with both ways without a search; its end is told", async () => {
  const { plan, dealt, byEye } = await planning.make("tarnmill", small);
  expect(plan).toEqual(allot(small));
  expect([dealt.kind, byEye.kind]).toEqual(["plan", "plan"]);
  expect(heard.at(-1)).toEqual({ delivery: "tarnmill", progress: null });
  expect(planning.progress("tarnmill")).toBeNull();
  expect(planning.stop("tarnmill")).toBe(false);
}, 30_000);

test("a stopped plan is whole and no worse than what was told; a second one of the delivery is refused meanwhile, another waits", async () => {
  const made = planning.make("tarnmill", long);
  await expect(planning.make("tarnmill", small)).rejects.toThrow(
    "This delivery is being planned already: wait for that plan, or keep the best so far.",
  );
  const other = planning.make("quay", small);
  await expect.poll(() => planning.progress("tarnmill")?.worst ?? 0, { timeout: 20_000 }).toBeGreaterThan(0);
  expect(planning.progress("quay")).toBeNull();
  const told = planning.progress("tarnmill")!;
  expect(planning.stop("tarnmill")).toBe(true);
  const { plan } = await made;
  if (plan.kind !== "plan") throw new Error("no plan");
  const places = long.openings.reduce((sum, { leaves }) => sum + leaves, 0);
  expect(plan.places.length + plan.empty.length).toBe(places);
  const worst = Math.max(...seenDifferences(long, plan.places).map(({ weighted }) => weighted));
  expect(plan.worst).toBeCloseTo(worst, 9);
  expect(plan.bound).toBeLessThanOrEqual(worst);
  expect(told.bound).toBeLessThanOrEqual(worst + 1e-9);
  expect((await other).plan.kind).toBe("plan");
}, 60_000);

test("what cannot be planned is answered, not thrown, and the next plan is made", async () => {
  const refused = await planning.make("tarnmill", { ...small, meetingWeight: -1 });
  expect(refused.plan).toMatchObject({ kind: "refused" });
  expect((await planning.make("tarnmill", small)).plan.kind).toBe("plan");
}, 30_000);

test("closing ends what is being made", async () => {
  const made = planning.make("tarnmill", long);
  const waits = planning.make("quay", long);
  const [ended, never] = [expect(made).rejects.toThrow("its process ended"), expect(waits).rejects.toThrow("closed")];
  await expect.poll(() => planning.progress("tarnmill"), { timeout: 20_000 }).not.toBeNull();
  planning.close();
  await ended;
  await never;
}, 30_000);
