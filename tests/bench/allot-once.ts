import { allotByHand, allotSteps, standardEffort } from "../../analysis/allot/allot.ts";
import type { Plan } from "../../analysis/allot/allotment.ts";
import { instance, type Make } from "./allotment-instances.ts";

/** What one invented job took: differences in weighted ΔE00, times in CPU seconds since the allotment began, memory in MB. */
export interface Measured {
  readonly worst: number;
  readonly bound: number;
  /** When the worst was first within `nearBound` of the bound as known then; null when it never was. */
  readonly nearAt: number | null;
  /** How far above its bound the plan was when it last told so within 30 and 60 s, as a share of the bound. */
  readonly gapAt30: number;
  readonly gapAt60: number;
  readonly provenAt: number | null;
  readonly seconds: number;
  readonly sortedWorst: number;
  readonly byEyeWorst: number;
  readonly over2: number;
  readonly sortedOver2: number;
  readonly sum: number;
  readonly sumProven: boolean;
  readonly sortedSum: number;
  readonly settled: number;
  readonly peakMB: number;
}

const cpuSeconds = (): number => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
};

const over2 = ({ perSpace }: Plan): number => perSpace.filter(({ worst }) => worst > 2).length;

/** Allots one job and prints what it took as JSON. Run in a process of its own by allotment.ts: nothing is warm. */
const measure = (leaves: number, seed: number, make: Make, nearBound: number): Measured => {
  const problem = instance(leaves, seed, make);
  const start = cpuSeconds();
  const since = () => cpuSeconds() - start;
  let [nearAt, provenAt, gapAt30, gapAt60]: [number | null, number | null, number, number] = [null, null, 1, 1];
  const steps = allotSteps(problem, standardEffort);
  let step = steps.next();
  for (; !step.done; step = steps.next()) {
    const { worst, bound } = step.value;
    const at = since();
    if (worst <= bound * (1 + nearBound)) nearAt ??= at;
    if (worst <= bound) provenAt ??= at;
    else provenAt = null;
    if (at <= 30) gapAt30 = worst / bound - 1;
    if (at <= 60) gapAt60 = worst / bound - 1;
  }
  const seconds = since();
  const peakMB = process.resourceUsage().maxRSS / 1024;
  const [plan, sorted, byEye] = [step.value, allotByHand(problem, "sorted"), allotByHand(problem, "by-eye")];
  if (plan.kind !== "plan" || sorted.kind !== "plan" || byEye.kind !== "plan")
    throw new Error(`${leaves} leaves, seed ${seed}, ${make}: ${plan.kind}`);
  return {
    worst: plan.worst,
    bound: plan.bound,
    nearAt,
    gapAt30,
    gapAt60,
    provenAt,
    seconds,
    sortedWorst: sorted.worst,
    byEyeWorst: byEye.worst,
    over2: over2(plan),
    sortedOver2: over2(sorted),
    sum: plan.sum,
    sumProven: plan.sumProven,
    sortedSum: sorted.sum,
    settled: Math.max(...plan.settled.map(({ length }) => length)),
    peakMB,
  };
};

const [leaves, seed, make, nearBound] = process.argv.slice(2);
console.log(JSON.stringify(measure(Number(leaves), Number(seed), make as Make, Number(nearBound))));
