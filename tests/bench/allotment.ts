import { allotByHand, allotSteps, standardEffort } from "../../analysis/allot/allot.ts";
import type { Allotment } from "../../analysis/allot/allotment.ts";
import { instance } from "./allotment-instances.ts";

/**
 * Prints, for invented jobs of each size, the worst difference by the plan, by sorting and dealing, and by eye, the bound, and CPU seconds.
 * npx tsx tests/bench/allotment.ts [leaves,leaves] [seeds]
 */
const sizes = (process.argv[2] ?? "11,24,60,120").split(",").map(Number);
const seeds = Number(process.argv[3] ?? 6);

const cpuSeconds = (): number => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
};

const worst = (outcome: Allotment): string => (outcome.kind === "plan" ? outcome.worst.toFixed(2) : outcome.kind);

const over2 = (outcome: Allotment): number =>
  outcome.kind === "plan" ? outcome.perSpace.filter(({ worst }) => worst > 2).length : Number.NaN;

console.log(
  "leaves seed | worst: plan bound sorted by-eye | spaces over 2: plan sorted by-eye | sum: plan sorted | CPU s: first within 2 %, bound met, all",
);
for (const size of sizes)
  for (let seed = 1; seed <= seeds; seed++) {
    const problem = instance(size, seed);
    const start = cpuSeconds();
    const seen: { at: number; worst: number }[] = [];
    const steps = allotSteps(problem, standardEffort);
    let met = Number.NaN;
    let plan: Allotment;
    for (;;) {
      const step = steps.next();
      if (step.done) {
        plan = step.value;
        break;
      }
      seen.push({ at: cpuSeconds() - start, worst: step.value.worst });
      if (Number.isNaN(met) && step.value.worst <= step.value.bound) met = cpuSeconds() - start;
    }
    const all = cpuSeconds() - start;
    if (plan.kind !== "plan") {
      console.log(size, seed, plan);
      continue;
    }
    const final = plan.worst;
    const first = seen.find((step) => step.worst <= final * 1.02)?.at ?? all;
    const sorted = allotByHand(problem, "sorted");
    const byEye = allotByHand(problem, "by-eye");
    const pairs = plan.perSpace.length;
    console.log(
      `${size} ${seed} | ${worst(plan)} ${plan.proven ? "proven" : plan.bound.toFixed(2)} ${worst(sorted)} ${worst(byEye)} | of ${pairs}: ${over2(plan)} ${over2(sorted)} ${over2(byEye)} | sum ${plan.sum.toFixed(1)} ${sorted.kind === "plan" ? sorted.sum.toFixed(1) : ""} | ${first.toFixed(2)} ${met.toFixed(2)} ${all.toFixed(2)}`,
    );
  }
