import { allotByHand } from "../../analysis/allot/allot.ts";
import type { AllotmentProblem, Plan } from "../../analysis/allot/allotment.ts";
import { togetherIn } from "../use-cases/plan-figures.ts";
import { plannedOr } from "../use-cases/planned-or.ts";
import { planInSteps } from "../workers/plan-in-steps.ts";
import { planInWords, type Ways } from "./plan-words.ts";
import { readAllotment } from "./read-allotment.ts";
import { say } from "./say.ts";

/** ΔE00 by which spaces over tolerance are counted where the file names none: the usual one of this trade's terms, ours. */
const usualTolerance = 2;

/** Tells on the error stream how far planning is, each time it got further; over and over in one line on a terminal. */
const progressLine = (stream: NodeJS.WriteStream) => {
  let last = "";
  return {
    hears: ({ worst, bound }: { readonly worst: number; readonly bound: number }): void => {
      const line = `Worst so far ΔE00 ${worst.toFixed(2)}, cannot be below ${bound.toFixed(2)}.`;
      if (line === last) return;
      last = line;
      stream.write(stream.isTTY ? `\r${line}` : `${line}\n`);
    },
    end: (): void => {
      if (stream.isTTY && last !== "") stream.write("\n");
    },
  };
};

/** Plans and tells how far it is when asked to; Ctrl-C takes the best so far. */
const planOf = async (problem: AllotmentProblem, progress: boolean): Promise<Plan> => {
  let stopped = false;
  const stop = () => {
    stopped = true;
  };
  process.once("SIGINT", stop);
  const line = progressLine(process.stderr);
  const hears = progress ? line.hears : () => undefined;
  try {
    return plannedOr(await planInSteps(problem, { hears, isStopped: () => stopped }));
  } finally {
    process.removeListener("SIGINT", stop);
    line.end();
  }
};

/** Solves an allotment that stands in a file, or comes in by standard input; beside it what one gets without a search. */
export const allotFile = async (
  file: string,
  { json, progress }: { readonly json: boolean; readonly progress: boolean },
): Promise<void> => {
  const problem = await readAllotment(file);
  const tolerance = problem.tolerance ?? usualTolerance;
  const plan = await planOf(problem, progress);
  const byHand = (way: "sorted" | "by-eye") => togetherIn(plannedOr(allotByHand(problem, way)), problem, tolerance);
  const ways: Ways = { plan: togetherIn(plan, problem, tolerance), byEye: byHand("by-eye"), dealt: byHand("sorted") };
  say(json, { ...plan, tolerance, ways }, () => planInWords(plan, ways, tolerance));
};
