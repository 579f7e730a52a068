import { normalQuantile } from "../algebra/even-normals.ts";
import { normalFrom } from "../algebra/seeded-random.ts";
import { allot, standardEffort } from "./allot.ts";
import type { AllotmentProblem, PlacedLeaf, SeenDifference } from "./allotment.ts";
import { layOut } from "./board.ts";
import { faultIn } from "./check-problem.ts";
import { describePlan } from "./describe-plan.ts";
import type { Before } from "./fewest-moves.ts";
import { leastMoved, valuesBefore } from "./fewest-moves-search.ts";
import { fewestReturns } from "./fewest-returns.ts";
import { independentGroups } from "./independent-groups.ts";
import { seenDifferences, seenMarks } from "./seen-differences.ts";

/** The largest weighted difference of a space as measured, and where it can lie: from where to where, ΔE00. */
export interface SureSpace {
  readonly space: string;
  readonly worst: number;
  readonly low: number;
  readonly high: number;
  /** Against the tolerance. */
  readonly sure: "inside" | "over" | "open";
}

/** What of a plan is sure, given how unsure the differences are. */
export interface Sureness {
  readonly kind: "sureness";
  readonly tolerance: number;
  readonly spaces: readonly SureSpace[];
  /** Return: goes back even if all differences are as small as they can be. Keep: stays even if all are as large. */
  readonly leaves: readonly { readonly leaf: string; readonly say: "return" | "keep" | "measure-again" }[];
  /**
   * Places of the plan that would get another leaf, or the leaf turned, in some of the redraws: in what share of them, the largest first.
   * As many are kept as is found in short time, so that on a large job of leaves that are all alike the shares are upper figures.
   */
  readonly decisions: readonly {
    readonly leaf: string;
    readonly opening: string;
    readonly place: 0 | 1;
    readonly turned: boolean;
    readonly share: number;
  }[];
  readonly redraws: number;
  /** The one new photo of two faces together that makes the most open spaces sure, if all differences stay as they are; null when none does. */
  readonly photo: { readonly one: string; readonly other: string; readonly settles: number } | null;
}

export type SurenessOutcome = Sureness | { readonly kind: "refused"; readonly why: string };

/** Half-width of the 95 % interval of two faces after a photo that shows them together once more, ΔE00: from memory, of line-ups. */
const usualRepeatU95 = 0.5;

/** How often the differences are drawn anew. */
const redraws = 20;

/** ΔE00 a plan may be behind the best of a redraw and still count as unchanged: below the error of measuring. */
const asGood = 0.05;

/** Looks at each group of openings for the best plan of a redraw, then for the fewest changes to reach it: a tenth of a second or so. */
const looksForBest = 8e6;
const looksForMoves = 2e6;

/**
 * What of a plan stays if the differences are other than measured, within their 95 % intervals. `repeatU95`: half-width, ΔE00, for two faces
 * shown together in one more photo. Marks are taken as they are; a pair that could not be compared lies anywhere from 0 to its stand-in.
 */
export const withinUncertainty = (
  problem: AllotmentProblem,
  places: Before,
  tolerance: number,
  repeatU95: number = usualRepeatU95,
): SurenessOutcome => {
  const why = faultIn(problem) ?? faultOf(problem, places, tolerance, repeatU95);
  if (why !== null) return { kind: "refused", why };
  const spaces = sureSpaces(problem, places, tolerance);
  return {
    kind: "sureness",
    tolerance,
    spaces,
    leaves: sureLeaves(problem, tolerance),
    decisions: decisionsThatChange(problem, places),
    redraws,
    photo: photoThatSettles(problem, places, tolerance, spaces, repeatU95),
  };
};

const faultOf = (
  { leaves, openings, differences }: AllotmentProblem,
  places: Before,
  tolerance: number,
  repeatU95: number,
): string | null => {
  if (!differences.u95) return "the differences come without their uncertainty; measure the leaves from photos first";
  if (!(tolerance > 0 && tolerance < Number.POSITIVE_INFINITY))
    return `the tolerance is ${tolerance}, not a number above 0`;
  if (!(repeatU95 >= 0)) return `the uncertainty of a repeated photo is ${repeatU95}, not a number from 0 up`;
  for (const { leaf, opening } of places) {
    if (!leaves.some(({ id }) => id === leaf)) return `the plan names leaf ${leaf}, which does not exist`;
    if (!openings.some(({ id }) => id === opening)) return `the plan names opening ${opening}, which does not exist`;
  }
  return null;
};

type Cell = number | null;

/** The problem with differences that are taken as sure: each made of the one measured and the half-width of its interval. */
const takenAs = (problem: AllotmentProblem, made: (deltaE: Cell, u95: number) => Cell): AllotmentProblem => {
  const { faces, deltaE, u95 } = problem.differences;
  const taken = deltaE.map((row, i) => row.map((value, j) => (i === j ? value : made(value, u95?.[i]?.[j] ?? 0))));
  return { ...problem, differences: { faces, deltaE: taken } };
};

const atLowest = (problem: AllotmentProblem) =>
  takenAs(problem, (deltaE, u95) => (deltaE === null ? 0 : Math.max(0, deltaE - u95)));
const asMeasured = (problem: AllotmentProblem) => takenAs(problem, (deltaE) => deltaE);
const atHighest = (problem: AllotmentProblem) =>
  takenAs(problem, (deltaE, u95) => (deltaE === null ? null : deltaE + u95));

const sureSpaces = (problem: AllotmentProblem, places: Before, tolerance: number): SureSpace[] => {
  const marks = seenMarks(problem, places);
  const [low, measured, high] = [atLowest(problem), asMeasured(problem), atHighest(problem)].map((taken) =>
    seenDifferences(taken, places),
  ) as [SeenDifference[], SeenDifference[], SeenDifference[]];
  return problem.spaces.map(({ id }) => {
    const mark = marks.find(({ space }) => space === id)?.counts ?? 0;
    const worstOf = (seen: readonly SeenDifference[]) =>
      seen.reduce((worst, one) => (one.space === id ? Math.max(worst, one.weighted) : worst), mark);
    const [from, to] = [worstOf(low), worstOf(high)];
    const sure = from > tolerance ? "over" : to <= tolerance ? "inside" : "open";
    return { space: id, worst: worstOf(measured), low: from, high: to, sure };
  });
};

const sureLeaves = (problem: AllotmentProblem, tolerance: number): Sureness["leaves"] => {
  const [surely, perhaps] = [returnedFrom(atLowest(problem), tolerance), returnedFrom(atHighest(problem), tolerance)];
  return problem.leaves
    .filter(({ state }) => state === "free")
    .map(({ id }) => ({
      leaf: id,
      say: surely?.has(id) ? "return" : perhaps && !perhaps.has(id) ? "keep" : "measure-again",
    }));
};

/** Leaves that go back when as few do as can; null where locked leaves pass the tolerance among themselves, so that none can be named. */
const returnedFrom = (problem: AllotmentProblem, tolerance: number): Set<string> | null => {
  const least = fewestReturns(problem, tolerance, looksForReturns);
  return least.kind === "returns" ? new Set(least.replace.flatMap(({ returned }) => returned ?? [])) : null;
};

/** Looks for the fewest returns of each group of openings: a second or so. */
const looksForReturns = 5e7;

/**
 * Variances of the faces' own errors, ΔE00², whose sums come nearest to those of the pairs: least squares with none below nothing, one face
 * after the other until they stay.
 */
const faceVariances = ({ differences: { faces, u95 } }: AllotmentProblem): number[] => {
  const perU95 = normalQuantile(0.975);
  const pairs = faces.map((_, i) =>
    faces.flatMap((__, j) => {
      const own = i === j ? null : (u95?.[i]?.[j] ?? null);
      return own === null ? [] : [{ other: j, variance: (own / perU95) ** 2 }];
    }),
  );
  const variances = faces.map(() => 0);
  for (let sweep = 0; sweep < 100; sweep++)
    for (const [i, own] of pairs.entries())
      if (own.length > 0)
        variances[i] = Math.max(
          0,
          own.reduce((sum, { other, variance }) => sum + variance - variances[other]!, 0) / own.length,
        );
  return variances;
};

/**
 * Draws the differences anew: each face is as much lighter or darker than it was measured as its own error is drawn, and the difference of
 * two changes by how much they move apart. What was measured holds an error already, so that a redraw has it twice: a cautious figure.
 */
const redrawFrom = (problem: AllotmentProblem, normal: () => number): (() => AllotmentProblem) => {
  const spread = faceVariances(problem).map(Math.sqrt);
  const lightness = new Map([
    ...problem.leaves.flatMap(({ faces: { A, B } }) => [A, B].map((face) => [face.id, face.lightness] as const)),
    ...problem.existing.map((face) => [face.id, face.lightness ?? null] as const),
  ]);
  const { faces, deltaE } = problem.differences;
  const light = faces.map((face) => lightness.get(face) ?? null);
  return () => {
    const error = spread.map((own) => own * normal());
    const drawn = deltaE.map((row, i) =>
      row.map((value, j) => {
        if (value === null || i === j) return value;
        const [one, other] = [light[i] ?? -i, light[j] ?? -j];
        const apart = error[i]! - error[j]!;
        return Math.abs(value + (one > other || (one === other && i < j) ? apart : -apart));
      }),
    );
    return { ...problem, differences: { ...problem.differences, deltaE: drawn } };
  };
};

const decisionsThatChange = (problem: AllotmentProblem, before: Before): Sureness["decisions"] => {
  const redraw = redrawFrom(problem, normalFrom(1));
  const changed = before.map(() => 0);
  for (let n = 0; n < redraws; n++) {
    const after = new Map(nearestPlan(redraw(), before).map((one) => [`${one.opening} ${one.place}`, one]));
    for (const [at, { opening, place, leaf, turned }] of before.entries()) {
      const now = after.get(`${opening} ${place}`);
      if (now?.leaf !== leaf || now.turned !== turned) changed[at]!++;
    }
  }
  return before
    .map(({ opening, place, leaf, turned }, at) => ({ leaf, opening, place, turned, share: changed[at]! / redraws }))
    .filter(({ share }) => share > 0)
    .toSorted((a, b) => b.share - a.share);
};

/** The plan as it was, as far as it may be in each group of openings that loses next to nothing against the best. */
const nearestPlan = (problem: AllotmentProblem, before: Before): Before =>
  independentGroups(problem).flatMap((group): Before => {
    const own = new Set(group.openings.map(({ id }) => id));
    const kept = before.filter(({ opening }) => own.has(opening));
    const best = allot(group, { ...standardEffort, looks: looksForBest, nextLooks: 0, sumLooks: 0, exchanges: 0 });
    if (best.kind !== "plan" || best.places.length !== kept.length) return kept;
    const board = layOut(group, best.places.map(placeOf(group)));
    const was = valuesBefore(board, kept);
    const worst = was.every((value) => value >= 0)
      ? describePlan(group, board, { plan: was, proven: false }, 0).worst
      : Number.POSITIVE_INFINITY;
    if (worst <= best.worst + asGood) return kept;
    const least = leastMoved(board, best.worst + asGood, was, valuesBefore(board, best.places), looksForMoves);
    return describePlan(group, board, { plan: least.plan, proven: false }, 0).places;
  });

const placeOf =
  ({ openings }: AllotmentProblem) =>
  ({ opening, place }: PlacedLeaf) => ({
    opening,
    place,
    spaces: openings.find(({ id }) => id === opening)!.spaces,
  });

/**
 * Tries one more photo of every two faces that are seen. Two faces shown together are as sure as such a photo makes them; a third face is then as
 * sure against the one as it is against the other, with the photo's own uncertainty.
 */
const photoThatSettles = (
  problem: AllotmentProblem,
  places: Before,
  tolerance: number,
  spaces: readonly SureSpace[],
  repeatU95: number,
): Sureness["photo"] => {
  const open = spaces.flatMap(({ space, sure }) => (sure === "open" ? [space] : []));
  if (open.length === 0) return null;
  const wanted = { ...problem, spaces: problem.spaces.filter(({ id }) => open.includes(id)) };
  const faceOf = (seat: SeenDifference["one"]): string =>
    seat.kind === "existing" ? seat.id : problem.leaves.find(({ id }) => id === seat.leaf)!.faces[seat.face].id;
  const seen = [...new Set(seenDifferences(wanted, places).flatMap(({ one, other }) => [faceOf(one), faceOf(other)]))];
  let photo: Sureness["photo"] = null;
  for (const [i, one] of seen.toSorted().entries())
    for (const other of seen.toSorted().slice(i + 1)) {
      const after = sureSpaces(afterPhoto(wanted, one, other, repeatU95), places, tolerance);
      const settles = after.filter(({ sure }) => sure !== "open").length;
      if (settles > (photo?.settles ?? 0)) photo = { one, other, settles };
    }
  return photo;
};

/** The problem as it would be known after a photo of the two faces together. */
const afterPhoto = (problem: AllotmentProblem, one: string, other: string, repeatU95: number): AllotmentProblem => {
  const { faces, u95 } = problem.differences;
  const [i, j] = [faces.indexOf(one), faces.indexOf(other)];
  const rows = u95!.map((row) => [...row]);
  const know = (a: number, b: number, within: number) => {
    rows[a]![b] = rows[b]![a] = Math.min(rows[a]![b] ?? Number.POSITIVE_INFINITY, within);
  };
  know(i, j, repeatU95);
  for (let k = 0; k < faces.length; k++) {
    if (k === i || k === j) continue;
    const [byOne, byOther] = [u95![i]![k]!, u95![j]![k]!];
    if (byOther !== null) know(i, k, Math.hypot(byOther, repeatU95));
    if (byOne !== null) know(j, k, Math.hypot(byOne, repeatU95));
  }
  return { ...problem, differences: { ...problem.differences, u95: rows } };
};
