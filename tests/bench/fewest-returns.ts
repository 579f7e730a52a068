import { fewestReturnsSteps, type ReturnsOutcome } from "../../analysis/allot/fewest-returns.ts";
import { instance } from "./allotment-instances.ts";
import { figure } from "./figures.ts";

/**
 * Prints, for invented jobs, how many leaves the fewest returns are and the bound of it, and CPU seconds; then how many were proven, and the
 * farthest from a bound, beside their goals: from a tolerance of 2.5 on and up to 60 leaves, proven within 10 s, never more than one over the bound.
 * npx tsx tests/bench/fewest-returns.ts [leaves,leaves] [tolerances] [seeds]
 */
const sizes = (process.argv[2] ?? "24,60").split(",").map(Number);
const tolerances = (process.argv[3] ?? "2,2.5,3").split(",").map(Number);
const seeds = Number(process.argv[4] ?? 12);

const cpuSeconds = (): number => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
};

const finish = (steps: Generator<unknown, ReturnsOutcome>): ReturnsOutcome => {
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
  }
};

for (const size of sizes)
  for (const tolerance of tolerances) {
    const seconds: number[] = [];
    const over: number[] = [];
    const found: string[] = [];
    for (let seed = 1; seed <= seeds; seed++) {
      const problem = instance(size, seed);
      const start = cpuSeconds();
      const outcome = finish(fewestReturnsSteps(problem, tolerance));
      if (outcome.kind !== "returns") throw new Error(outcome.kind);
      seconds.push(cpuSeconds() - start);
      over.push(outcome.replace.length - outcome.bound);
      found.push(outcome.proven ? `${outcome.replace.length}` : `${outcome.bound}-${outcome.replace.length}`);
    }
    const proven = over.filter((one) => one === 0).length;
    const judged = tolerance >= 2.5 && size <= 60;
    const what = `${size} leaves, tolerance ${tolerance}`;
    figure(
      `${what}: proven`,
      `${proven} of ${seeds}`,
      judged ? "all" : "",
      judged ? proven === seeds : null,
      `returns ${found.join(" ")}`,
    );
    const most = Math.max(...over);
    figure(`${what}: most over the bound`, String(most), "<= 1", most <= 1, "");
    const slowest = Math.max(...seconds);
    figure(
      `${what}: slowest, CPU s`,
      slowest.toFixed(2),
      judged ? "<= 10" : "",
      judged ? slowest <= 10 : null,
      `median ${seconds.toSorted((a, b) => a - b)[seeds >> 1]!.toFixed(2)}`,
    );
  }
