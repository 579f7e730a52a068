import { allot } from "../../analysis/allot/allot.ts";
import type { AllotmentProblem } from "../../analysis/allot/allotment.ts";
import { seenCosts } from "../analysis/allot/seen-costs.ts";
import { solveByOthers } from "../analysis/allot/solver-by-others.ts";
import { leastWorstModel, thresholdModel } from "../analysis/allot/threshold-model.ts";
import { instance } from "./allotment-instances.ts";
import { figure } from "./figures.ts";

/**
 * CPU time to a proven least worst on invented jobs: our whole call, all that follows the worst included, against HiGHS on the whole as one
 * mixed-integer program, and against HiGHS halving the levels by whether a plan exists. Medians of ours in a program that is warm;
 * setting up the numbers and the texts is not counted for HiGHS. Ends with an error where two proven worsts differ by more than 1e-6.
 * npx tsx tests/bench/allotment-peer.ts [leaves] [jobs] [seconds a job]
 */
const leaves = Number(process.argv[2] ?? 24);
const jobs = Number(process.argv[3] ?? 6);
const seconds = Number(process.argv[4] ?? 120);

/** CPU seconds of this process, and what came out. */
const timed = <T>(run: () => T): { readonly took: number; readonly out: T } => {
  const before = process.cpuUsage();
  const out = run();
  const { user, system } = process.cpuUsage(before);
  return { took: (user + system) / 1e6, out };
};

/** Median CPU seconds of five calls of ours. */
const ours = (problem: AllotmentProblem): number =>
  Array.from({ length: 5 }, () => timed(() => allot(problem)).took).toSorted((a, b) => a - b)[2]!;

type Costs = ReturnType<typeof seenCosts>;

/** The least level at which a plan exists, and the CPU seconds of asking HiGHS. */
const leastLevel = (costs: Costs): { readonly took: number; readonly least: number } => {
  const all = [...costs.alone.values(), ...costs.beside.flatMap((one) => one.costs.map(({ worst }) => worst))];
  const levels = Float64Array.from(new Set(all)).sort();
  let [below, high] = [-1, levels.length - 1];
  let seconds = 0;
  while (high - below > 1) {
    const middle = (below + high) >> 1;
    const program = thresholdModel(costs, levels[middle]!);
    const { took, out } = timed(() => solveByOthers(program, { presolve: false }));
    seconds += took;
    if (out.ended === "solved") high = middle;
    else below = middle;
  }
  return { took: seconds, least: levels[high]! };
};

const agree = (what: string, least: number, theirs: number): void => {
  if (!(Math.abs(least - theirs) <= 1e-6)) throw new Error(`${what}: ours proves ${least}, HiGHS ${theirs}`);
};

const took: { call: number; whole: number; levels: number }[] = [];
solveByOthers("Minimize\n least: x\nSubject To\n x >= 1\nEnd");
for (let seed = 1; seed <= jobs; seed++) {
  const problem = instance(leaves, seed);
  const what = `${leaves} leaves, job ${seed}`;
  const plan = allot(problem);
  if (plan.kind !== "plan" || !plan.proven) throw new Error(`${what}: no proven plan of ours`);
  const call = ours(problem);
  const costs = seenCosts(problem);
  const levels = leastLevel(costs);
  agree(what, plan.worst, levels.least);
  const program = leastWorstModel(costs);
  const whole = timed(() => solveByOthers(program, { seconds }));
  const proven = whole.out.ended === "solved";
  if (proven) agree(what, plan.worst, whole.out.least);
  took.push({ call, whole: whole.took, levels: levels.took });
  figure(
    what,
    `${proven ? "" : "over "}${(whole.took / call).toFixed(1)} x ours`,
    "",
    null,
    `worst ${plan.worst.toFixed(4)}; CPU s: ours ${call.toFixed(3)}; HiGHS ${proven ? whole.took.toFixed(2) : `not proven in ${seconds}`}, by levels ${levels.took.toFixed(2)}`,
  );
}

const total = (of: keyof (typeof took)[number]): number => took.reduce((sum, one) => sum + one[of], 0);
for (const [what, theirs, goal] of [
  ["all jobs: HiGHS on the whole", "whole", 20],
  ["all jobs: HiGHS by levels", "levels", null],
] as const) {
  const times = total(theirs) / total("call");
  const closest = Math.min(...took.map((one) => one[theirs] / one.call));
  const note = `${closest.toFixed(1)} x in the job where it is least`;
  figure(what, `${times.toFixed(1)} x ours`, goal ? `>= ${goal}` : "", goal ? times >= goal : null, note);
}
