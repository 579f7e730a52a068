import { allot, type Effort, standardEffort } from "./allot.ts";
import type {
  Allotment,
  AllotmentProblem,
  Ban,
  Leaf,
  LeafFace,
  Lock,
  PlacedLeaf,
  Plan,
  SeenDifference,
} from "./allotment.ts";
import { goesWithAll } from "./goes-with-all.ts";
import { bestTurns } from "./like-delivered.ts";
import { neighboursOf } from "./replacement-target.ts";

/** The largest weighted difference of the best plan when one thing is otherwise, ΔE00, and what no plan can better then. */
interface Lowered {
  readonly worst: number;
  readonly bound: number;
}

/**
 * One thing that would lower the worst: a leaf, or an existing face, changed for one that goes with everything; a lock let go; a leaf let in
 * where a ban keeps it out; one leaf more for an opening, of the look of a delivered one.
 */
export type Lift = Lowered &
  (
    | { readonly by: "other-leaf"; readonly leaf: string }
    | { readonly by: "other-existing"; readonly existing: string }
    | { readonly by: "let-go"; readonly lock: Lock }
    | { readonly by: "let-in"; readonly ban: Ban }
    | { readonly by: "one-more-like"; readonly leaf: string; readonly opening: string }
  );

export type WhatWouldLift =
  | (Lowered & {
      readonly kind: "lift";
      /** The two faces with the largest weighted difference in the best plan. */
      readonly pair: SeenDifference | null;
      /** What lowers it most first; empty when no single thing does. */
      readonly lifts: readonly Lift[];
    })
  | Exclude<Allotment, Plan>;

/** ΔE00 that the worst must fall by to be worth naming: below the error of measuring. */
const worthNaming = 0.05;

/** Looks that all the trials may take between them: some seconds; fewer where most of ten seconds went into a plan that is not proven. */
const looksForTrials = { proven: 3e8, unproven: 1e8 };

/** Looks of delivered leaves that are tried for one more. */
const looksTried = 3;

/**
 * What forces the worst difference of the best plan, and which single thing would lower it. Each change is planned for anew, in less time than the
 * plan itself had: one is named only if a plan that is lower was found.
 */
export const whatWouldLift = (problem: AllotmentProblem, effort: Effort = standardEffort): WhatWouldLift => {
  const best = allot(problem, worstOnly(effort, effort.looks));
  if (best.kind !== "plan") return best;
  const { locks, bans, existing } = problem;
  const places = forcing(best);
  const trials = places.length * (1 + looksTried) + locks.length + bans.length + existing.length + 3;
  const each = worstOnly(effort, looksForTrials[best.proven ? "proven" : "unproven"] / trials);
  const tried = (one: AllotmentProblem): Lowered | null => {
    const plan = allot(one, each);
    return plan.kind === "plan" && plan.worst < best.worst - worthNaming ? plan : null;
  };
  const named = <By extends object>(by: By, one: AllotmentProblem): (By & Lowered)[] => {
    const lowered = tried(one);
    return lowered ? [{ ...by, worst: lowered.worst, bound: lowered.bound }] : [];
  };
  /** One after the other, unless all of them at once are of no use. */
  const oneOf = <Thing>(
    things: readonly Thing[],
    without: (gone: readonly Thing[]) => AllotmentProblem,
    lift: (thing: Thing) => Lift[],
  ): Lift[] => (things.length > 0 && mayLower(without(things), best, each) ? things.flatMap(lift) : []);

  const withoutLocks = (gone: readonly Lock[]) => ({ ...problem, locks: locks.filter((one) => !gone.includes(one)) });
  const withoutBans = (gone: readonly Ban[]) => ({ ...problem, bans: bans.filter((one) => !gone.includes(one)) });
  const withOther = (faces: readonly string[]) => goesWithAll(problem, faces);
  const lifts = [
    ...places.flatMap(({ leaf }) => named({ by: "other-leaf" as const, leaf }, withOther(facesOf(problem, leaf)))),
    ...oneOf(
      existing,
      (gone) => withOther(gone.map(({ id }) => id)),
      ({ id }) => named({ by: "other-existing" as const, existing: id }, withOther([id])),
    ),
    ...oneOf(locks, withoutLocks, (lock) => named({ by: "let-go" as const, lock }, withoutLocks([lock]))),
    ...oneOf(bans, withoutBans, (ban) => named({ by: "let-in" as const, ban }, withoutBans([ban]))),
    ...places.flatMap((at) =>
      looksFor(problem, best, at)
        .flatMap((leaf) =>
          named({ by: "one-more-like" as const, leaf, opening: at.opening }, withCopy(problem, leaf, at.leaf)),
        )
        .toSorted(lowestFirst)
        .slice(0, 1),
    ),
  ];
  return {
    kind: "lift",
    worst: best.worst,
    bound: best.bound,
    pair: best.worstPair,
    lifts: lifts.toSorted(lowestFirst),
  };
};

const lowestFirst = (a: Lowered, b: Lowered): number => a.worst - b.worst || a.bound - b.bound;

/** The worst alone, each group of openings within so many looks. */
const worstOnly = (effort: Effort, looks: number): Effort => ({
  ...effort,
  looks: Math.min(effort.looks, looks),
  nextLooks: 0,
  sumLooks: 0,
  exchanges: 0,
});

const mayLower = (problem: AllotmentProblem, best: Plan, effort: Effort): boolean => {
  const plan = allot(problem, effort);
  return plan.kind === "plan" && plan.bound < best.worst - worthNaming;
};

/** The leaves of the worst pair where they hang, or the one whose mark counts as much. */
const forcing = ({ places, worst, worstPair, marks }: Plan): PlacedLeaf[] => {
  const seats = worstPair ? [worstPair.one, worstPair.other] : [];
  const leaves = new Set([
    ...seats.flatMap((seat) => (seat.kind === "leaf" ? [seat.leaf] : [])),
    ...marks.filter(({ counts }) => counts >= worst).map(({ leaf }) => leaf),
  ]);
  return places.filter(({ leaf }) => leaves.has(leaf));
};

const facesOf = ({ leaves }: AllotmentProblem, id: string): [string, string] => {
  const { A, B } = leaves.find((leaf) => leaf.id === id)!.faces;
  return [A.id, B.id];
};

/** The delivered leaves that would go best in the place of one, the best first; not the one itself. */
const looksFor = (problem: AllotmentProblem, { places }: Plan, at: PlacedLeaf): string[] => {
  const others = problem.leaves.filter(({ id, state }) => state === "free" && id !== at.leaf);
  const rest = places.filter((one) => one !== at);
  return bestTurns(problem, others, neighboursOf(problem, rest, at))
    .slice(0, looksTried)
    .map(({ leaf }) => leaf);
};

/** The same with one leaf more: it looks like the one and fits where the other does. */
const withCopy = (problem: AllotmentProblem, look: string, fit: string): AllotmentProblem => {
  const { leaves, differences } = problem;
  const [like, made] = [look, fit].map((id) => leaves.find((leaf) => leaf.id === id)!) as [Leaf, Leaf];
  const taken = new Set([...leaves.map(({ id }) => id), ...differences.faces]);
  const unused = (id: string): string => (taken.has(id) ? unused(`${id}'`) : id);
  const copied = [like.faces.A, like.faces.B].map((face) => ({ lightness: face.lightness, id: unused(`${face.id}'`) }));
  const [A, B] = copied as [LeafFace, LeafFace];
  const rows = [like.faces.A, like.faces.B].map(({ id }) => differences.faces.indexOf(id));
  const widened = <Cell>(table: readonly (readonly Cell[])[]) => {
    const wide = table.map((row) => [...row, ...rows.map((column) => row[column]!)]);
    return [...wide, ...rows.map((row) => wide[row]!)];
  };
  return {
    ...problem,
    leaves: [...leaves, { ...made, id: unused(`${look}'`), faces: { A, B } }],
    differences: {
      faces: [...differences.faces, A.id, B.id],
      deltaE: widened(differences.deltaE),
      ...(differences.u95 ? { u95: widened(differences.u95) } : {}),
    },
  };
};
