import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import type { Measured } from "./allot-once.ts";
import { type Make, makes } from "./allotment-instances.ts";

/**
 * Allots invented jobs of each size, each in a process of its own, and prints what they took and whether the goals are met. The make of a
 * job follows from its seed. Times are CPU seconds of the whole allotment, from cold.
 * npx tsx tests/bench/allotment.ts [leaves,leaves] [seeds] [firstSeed]
 */
const sizes = (process.argv[2] ?? "24,60,120").split(",").map(Number);
const seeds = Number(process.argv[3] ?? 12);
const firstSeed = Number(process.argv[4] ?? 1);

const once = fileURLToPath(new URL("allot-once.ts", import.meta.url));

const measureOnce = (leaves: number, seed: number, make: Make): Measured => {
  const nearBound = leaves > 200 ? 0.35 : 0.25;
  const args = [...process.execArgv, once, String(leaves), String(seed), make, String(nearBound)];
  const { stdout, stderr, status } = spawnSync(process.execPath, args, { encoding: "utf8" });
  if (status !== 0) throw new Error(stderr);
  return JSON.parse(stdout) as Measured;
};

/** A figure asked for: `least` or `most` it may be. */
interface Goal {
  readonly what: string;
  readonly value: number;
  readonly least?: number;
  readonly most?: number;
}

const share = (all: readonly Measured[], is: (one: Measured) => boolean): number => all.filter(is).length / all.length;
const most = (all: readonly Measured[], of: (one: Measured) => number): number => Math.max(...all.map(of));
const median = (all: readonly Measured[], of: (one: Measured) => number): number => {
  const sorted = all.map(of).sort((a, b) => a - b);
  return (sorted[(sorted.length - 1) >> 1]! + sorted[sorted.length >> 1]!) / 2;
};
const provenBy = (seconds: number) => (one: Measured) => one.provenAt !== null && one.provenAt <= seconds;

const goalsFor = (leaves: number, all: readonly Measured[]): Goal[] => {
  const goals: Goal[] = [];
  if (leaves <= 24)
    goals.push(
      { what: "share proven best", value: share(all, provenBy(0.2)), least: 1 },
      { what: "seconds of the whole, most", value: most(all, ({ seconds }) => seconds), most: 0.2 },
    );
  else if (leaves <= 60)
    goals.push(
      { what: "share proven best", value: share(all, provenBy(10)), least: 0.95 },
      { what: "seconds of the whole, median", value: median(all, ({ seconds }) => seconds), most: 1.5 },
      { what: "seconds of the whole, most", value: most(all, ({ seconds }) => seconds), most: 10 },
    );
  else if (leaves <= 120)
    goals.push(
      { what: "seconds to within 25 % of the bound, most", value: most(all, firstNear), most: 1 },
      { what: "share proven best in 30 s", value: share(all, provenBy(30)), least: 0.75 },
      { what: "gap at 30 s, most", value: most(all, ({ gapAt30 }) => gapAt30), most: 0.03 },
    );
  else
    goals.push(
      { what: "seconds to within 35 % of the bound, most", value: most(all, firstNear), most: 3 },
      { what: "gap at 60 s, most", value: most(all, ({ gapAt60 }) => gapAt60), most: 0.05 },
      { what: "peak memory in MB, most", value: most(all, ({ peakMB }) => peakMB), most: 300 },
    );
  if (leaves >= 60)
    goals.push(
      {
        what: "spaces over 2 against sorted and dealt, median",
        value: median(all, (one) => one.over2 / Math.max(1, one.sortedOver2)),
        most: 0.5,
      },
      { what: "worst against by eye, median", value: median(all, (one) => one.worst / one.byEyeWorst), most: 0.55 },
    );
  if (leaves >= 120)
    goals.push({
      what: "worst against sorted and dealt, median",
      value: median(all, (one) => one.worst / one.sortedWorst),
      most: 0.75,
    });
  return goals;
};

const firstNear = ({ nearAt }: Measured): number => nearAt ?? Number.POSITIVE_INFINITY;

const row = (cells: readonly (string | number)[]): string =>
  cells.map((cell) => (typeof cell === "number" ? cell.toFixed(2) : cell)).join(" | ");

console.log(
  "leaves seed make | worst | bound | by eye | sorted | spaces over 2 | sorted | sum | sorted | settled | s near | proven | all | MB",
);
const results = sizes.map((leaves) => ({
  leaves,
  all: Array.from({ length: seeds }, (_, n) => {
    const seed = firstSeed + n;
    const make = makes[(seed - 1) % makes.length]!;
    const one = measureOnce(leaves, seed, make);
    const { worst, bound, byEyeWorst, sortedWorst, over2, sortedOver2, sum, sortedSum, nearAt, provenAt } = one;
    const differences = [worst, worst <= bound ? "proven" : bound, byEyeWorst, sortedWorst];
    const sums = [String(over2), String(sortedOver2), sum, sortedSum, `${one.settled}${one.sumProven ? "+sum" : ""}`];
    const times = [nearAt ?? "never", provenAt ?? "open", one.seconds, one.peakMB.toFixed(0)];
    console.log(row([`${leaves} ${seed} ${make}`, ...differences, ...sums, ...times]));
    return one;
  }),
}));

console.log("\nleaves | figure | goal | measured |");
for (const { leaves, all } of results)
  for (const { what, value, least, most } of goalsFor(leaves, all)) {
    const met = least === undefined ? value <= most! : value >= least;
    const goal = least === undefined ? `<= ${most}` : `>= ${least}`;
    console.log(row([String(leaves), what, goal, value, met ? "met" : "missed"]));
  }
