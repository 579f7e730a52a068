import { allot } from "../../analysis/allot/allot.ts";
import { fewestMoves } from "../../analysis/allot/fewest-moves.ts";
import { fewestReturns } from "../../analysis/allot/fewest-returns.ts";
import { lateLeaf } from "../../analysis/allot/late-leaf.ts";
import { replacementLook } from "../../analysis/allot/replacement-look.ts";
import { whatIf } from "../../analysis/allot/what-if.ts";
import { whatWouldLift } from "../../analysis/allot/what-would-lift.ts";
import { withinUncertainty } from "../../analysis/allot/within-uncertainty.ts";
import { Refusal } from "../problem.ts";
import { plannedOr } from "../use-cases/planned-or.ts";
import {
  curveInWords,
  lateInWords,
  liftInWords,
  looksInWords,
  returnsInWords,
  surenessInWords,
  whatIfInWords,
} from "./allotment-words.ts";
import { readAllotment, readPlan } from "./read-allotment.ts";
import { say } from "./say.ts";

/** What can be asked about an allotment instead of the plan itself. */
export interface Question {
  readonly json: boolean;
  /** Tolerance the fewest returns are to keep, ΔE00. */
  readonly returns?: string;
  readonly late?: string;
  /** "LEAF=OPENING", each. */
  readonly lock?: readonly string[];
  readonly replace?: string;
  /** What would lift the worst. */
  readonly lift?: true;
  /** How sure the plan is. */
  readonly sure?: true;
  /** File with the plan before. */
  readonly from?: string;
  readonly loss?: string;
  readonly tolerance?: string;
}

const number = (text: string | undefined, fallback: number, what: string): number => {
  const value = text === undefined ? fallback : Number(text);
  if (!(value >= 0)) throw new Refusal(`${what} is ${text}: give a number from 0 up.`, 422);
  return value;
};

const lockFrom = (text: string) => {
  const [leaf, opening] = text.split("=");
  if (!leaf || !opening) throw new Refusal(`The lock ${text} is not LEAF=OPENING.`, 422);
  return { leaf, opening };
};

type Asked = Awaited<ReturnType<typeof readAllotment>>;

const planBefore = async (problem: Asked, { from }: Question) =>
  from === undefined ? plannedOr(allot(problem)).places : await readPlan(from);

const askReturns = (problem: Asked, returns: string, { json }: Question): void => {
  const answer = plannedOr(fewestReturns(problem, number(returns, 0, "The tolerance")));
  if (answer.kind === "locks-clash")
    throw new Refusal(
      `Locked leaves pass the tolerance among themselves: ${answer.locks.map(({ leaf }) => leaf).join(", ")}.`,
    );
  say(json, answer, () => returnsInWords(answer));
};

const askLate = (problem: Asked, leaf: string, { json }: Question): void => {
  const answer = plannedOr(lateLeaf(problem, leaf));
  say(json, answer, () => lateInWords(leaf, answer));
};

const askLock = async (problem: Asked, locks: readonly string[], question: Question): Promise<void> => {
  const wish = { locks: locks.map(lockFrom), bans: [] };
  const answer = plannedOr(
    whatIf(problem, await planBefore(problem, question), wish, number(question.loss, 0, "The loss")),
  );
  say(question.json, answer, () => whatIfInWords(answer));
};

const askReplacement = async (problem: Asked, replace: string, question: Question): Promise<void> => {
  const [opening = "", place] = replace.split(":");
  if (!problem.openings.some(({ id }) => id === opening)) throw new Refusal(`There is no opening ${opening}.`, 422);
  const colours = new Map(problem.colours.map(({ face, parts }) => [face, parts]));
  const at = { opening, place: place === "1" ? 1 : 0 } as const;
  const tolerance = number(question.tolerance, problem.tolerance ?? 2, "The tolerance");
  const looks = replacementLook(problem, await planBefore(problem, question), at, colours, tolerance);
  say(question.json, looks, () => looksInWords(opening, looks));
};

const askLift = (problem: Asked, { json }: Question): void => {
  const answer = plannedOr(whatWouldLift(problem));
  say(json, answer, () => liftInWords(answer));
};

const askSureness = async (problem: Asked, question: Question): Promise<void> => {
  const tolerance = number(question.tolerance, problem.tolerance ?? 2, "The tolerance");
  const answer = plannedOr(withinUncertainty(problem, await planBefore(problem, question), tolerance));
  say(question.json, answer, () => surenessInWords(answer));
};

const askMoves = async (problem: Asked, question: Question): Promise<void> => {
  const answer = plannedOr(
    fewestMoves(problem, await planBefore(problem, question), number(question.loss, 0, "The loss")),
  );
  say(question.json, answer, () => curveInWords(answer));
};

/** Answers the question about the allotment in a file: the first of those asked, the fewest moves from the plan before when none is. */
export const askAllotment = async (file: string, question: Question): Promise<void> => {
  const problem = await readAllotment(file);
  if (question.returns !== undefined) askReturns(problem, question.returns, question);
  else if (question.late !== undefined) askLate(problem, question.late, question);
  else if (question.lock !== undefined) await askLock(problem, question.lock, question);
  else if (question.replace !== undefined) await askReplacement(problem, question.replace, question);
  else if (question.lift) askLift(problem, question);
  else if (question.sure) await askSureness(problem, question);
  else await askMoves(problem, question);
};
