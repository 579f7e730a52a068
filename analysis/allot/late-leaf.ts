import { allot, type Effort, standardEffort } from "./allot.ts";
import type { Allotment, AllotmentProblem, PlacedLeaf, Plan, SeenDifference } from "./allotment.ts";
import { faultIn, suits } from "./check-problem.ts";
import { goesWithAll } from "./goes-with-all.ts";
import { seenDifferences } from "./seen-differences.ts";

/** An opening that may wait for the late leaf: how the others hang meanwhile, and what is seen once it has come. */
export interface Waiting {
  readonly opening: string;
  readonly place: 0 | 1;
  /** Which way round the late leaf will hang. */
  readonly turned: boolean;
  /** The other leaves, without the late one. */
  readonly places: readonly PlacedLeaf[];
  /** Largest weighted difference among them. */
  readonly meanwhile: number;
  /** Largest weighted difference with the late leaf hung there, by the differences that are known of it. */
  readonly afterwards: number;
  /** What no plan can better: of `meanwhile` when the leaf's colour is taken as unknown, of `afterwards` when it is counted on. */
  readonly bound: number;
}

export type LateLeaf =
  | {
      readonly kind: "late";
      /** As if its colour were not known: what the others lose least by. */
      readonly unseen: Waiting;
      /** Counting on the colour that is known of it; null when it was compared with nothing. */
      readonly counted: Waiting | null;
    }
  /** The others fill as many openings without it. */
  | { readonly kind: "not-needed"; readonly plan: Plan }
  | Exclude<Allotment, Plan>;

/**
 * A leaf is late: which opening to leave empty with the least loss. A leaf that goes with every other one stands in for it, so that the plan is
 * best for those that are there; an opening is only left to a leaf that fits it. `at`: only these openings are asked about.
 */
export const lateLeaf = (
  problem: AllotmentProblem,
  leaf: string,
  at: readonly string[] = problem.openings.map(({ id }) => id),
  effort: Effort = standardEffort,
): LateLeaf => {
  const why = faultIn(problem) ?? faultOf(problem, leaf, at);
  if (why !== null) return { kind: "refused", why };
  const waiting = awaited(problem, leaf, at);
  const late = problem.leaves.find(({ id }) => id === leaf)!;
  const standIn = allot(goesWithAll(waiting, [late.faces.A.id, late.faces.B.id]), effort);
  if (standIn.kind !== "plan") return standIn;
  const others = allot(isOut(problem, leaf), effort);
  if (others.kind === "plan" && others.empty.length === standIn.empty.length)
    return { kind: "not-needed", plan: others };
  const unseen = waitingIn(problem, leaf, standIn);
  if (!isCompared(problem, leaf)) return { kind: "late", unseen, counted: null };
  const known = allot(waiting, effort);
  return { kind: "late", unseen, counted: known.kind === "plan" ? waitingIn(problem, leaf, known) : null };
};

const faultOf = ({ leaves, openings }: AllotmentProblem, id: string, at: readonly string[]): string | null => {
  const leaf = leaves.find((one) => one.id === id);
  if (!leaf) return `leaf ${id} does not exist`;
  const unknown = at.find((opening) => !openings.some((one) => one.id === opening));
  if (unknown !== undefined) return `opening ${unknown} does not exist`;
  return openings.some((opening) => at.includes(opening.id) && suits(leaf, opening))
    ? null
    : `leaf ${id} fits none of the openings asked about`;
};

const isOut = (problem: AllotmentProblem, late: string): AllotmentProblem => ({
  ...problem,
  leaves: problem.leaves.map((leaf) => (leaf.id === late ? { ...leaf, state: "out" } : leaf)),
  locks: problem.locks.filter((lock) => lock.leaf !== late),
});

/** The leaf free to be planned for, in the openings asked about. */
const awaited = (problem: AllotmentProblem, late: string, at: readonly string[]): AllotmentProblem => ({
  ...problem,
  leaves: problem.leaves.map((leaf) =>
    leaf.id === late
      ? {
          ...leaf,
          state: "free",
          fits: {
            openings: problem.openings
              .filter((opening) => at.includes(opening.id) && suits(leaf, opening))
              .map(({ id }) => id),
          },
        }
      : leaf,
  ),
});

const isCompared = ({ leaves, differences: { faces, deltaE } }: AllotmentProblem, late: string): boolean => {
  const { A, B } = leaves.find(({ id }) => id === late)!.faces;
  const own = new Set([A.id, B.id]);
  return [...own].some((face) =>
    deltaE[faces.indexOf(face)]!.some((value, other) => value !== null && !own.has(faces[other]!)),
  );
};

const waitingIn = (problem: AllotmentProblem, late: string, plan: Plan): Waiting => {
  const hung = plan.places.find(({ leaf }) => leaf === late)!;
  const places = plan.places.filter(({ leaf }) => leaf !== late);
  const worstOf = (seen: readonly SeenDifference[]): number =>
    seen.reduce((worst, { weighted }) => Math.max(worst, weighted), 0);
  return {
    opening: hung.opening,
    place: hung.place,
    turned: hung.turned,
    places,
    meanwhile: worstOf(seenDifferences(problem, places)),
    afterwards: worstOf(seenDifferences(problem, plan.places)),
    bound: plan.bound,
  };
};
