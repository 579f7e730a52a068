import type { PartKind } from "../leaf-parts.ts";
import type { GrainFigure } from "./figure.ts";
import { apart } from "./windows.ts";

/** What of a part's grain decides how its cut looks; contrast is left out, it falls with the distance of the phone. */
export type CutFigure = Pick<
  GrainFigure,
  "part" | "kind" | "directionDeg" | "pitchMm" | "spreadDeg" | "figure" | "u95"
>;

/** How the cuts of two faces differ in the parts of one kind: straight beside crown, the grain's lean, or how close its lines are. */
export type CutDifference = { readonly kind: PartKind } & (
  | { readonly what: "figure"; readonly one: "straight" | "crown"; readonly other: "straight" | "crown" }
  | { readonly what: "direction" | "pitch"; readonly one: number; readonly other: number }
);

/**
 * What an eye notices from leaf to leaf, beyond what is sure: a lean of 5 degrees, lines half as far apart again. Common practice,
 * no source.
 */
const noticed = { leanDeg: 5, pitchTimes: 1.5 } as const;

interface Sure {
  readonly value: number;
  readonly u95: number;
}

/** Mean of parts of one kind with its uncertainty; null where none is sure. */
const meanOf = (parts: readonly { readonly value: number | null; readonly u95: number | null }[]): Sure | null => {
  const sure = parts.filter((part): part is Sure => part.value !== null && part.u95 !== null);
  if (sure.length === 0) return null;
  return {
    value: sure.reduce((sum, { value }) => sum + value, 0) / sure.length,
    u95: Math.hypot(...sure.map(({ u95 }) => u95)) / sure.length,
  };
};

/** Whether two means lie farther apart than both are sure to. */
const surelyApart = (one: Sure, other: Sure): boolean =>
  Math.abs(one.value - other.value) > Math.hypot(one.u95, other.u95);

const figureOf = (parts: readonly CutFigure[]): "straight" | "crown" | null => {
  const [first] = parts;
  if (!first || first.figure === "plain") return null;
  return parts.every(({ figure }) => figure === first.figure) ? first.figure : null;
};

const kindDifferences = (
  kind: PartKind,
  one: readonly CutFigure[],
  other: readonly CutFigure[],
): readonly CutDifference[] => {
  const found: CutDifference[] = [];
  const both = (of: (part: CutFigure) => { value: number | null; u95: number | null }) => {
    const [a, b] = [meanOf(one.map(of)), meanOf(other.map(of))];
    return a && b && surelyApart(a, b) ? ([a.value, b.value] as const) : null;
  };
  const [figure, otherFigure] = [figureOf(one), figureOf(other)];
  const spread = both(({ spreadDeg, u95 }) => ({ value: spreadDeg, u95: u95.spreadDeg }));
  if (figure && otherFigure && figure !== otherFigure && spread)
    found.push({ kind, what: "figure", one: figure, other: otherFigure });
  const zero = one[0]?.directionDeg ?? 0;
  const lean = both(({ directionDeg, u95 }) => ({ value: apart(directionDeg, zero), u95: u95.directionDeg }));
  if (lean && Math.abs(lean[0] - lean[1]) > noticed.leanDeg)
    found.push({ kind, what: "direction", one: zero + lean[0], other: zero + lean[1] });
  const pitch = both(({ pitchMm, u95 }) => ({ value: pitchMm, u95: u95.pitchMm }));
  if (pitch && Math.max(...pitch) > noticed.pitchTimes * Math.min(...pitch))
    found.push({ kind, what: "pitch", one: pitch[0], other: pitch[1] });
  return found;
};

/**
 * How the cuts of two faces differ, by kinds of parts, beyond their own repeatability and so that an eye notices it. Only parts that
 * both show are compared; none, and nothing differs.
 */
export const cutDifferences = (one: readonly CutFigure[], other: readonly CutFigure[]): readonly CutDifference[] => {
  const shared = (parts: readonly CutFigure[], others: readonly CutFigure[]) =>
    parts.filter(({ part }) => others.some((seen) => seen.part === part));
  const [mine, theirs] = [shared(one, other), shared(other, one)];
  return [...new Set(mine.map(({ kind }) => kind))].flatMap((kind) =>
    kindDifferences(
      kind,
      mine.filter((part) => part.kind === kind),
      theirs.filter((part) => part.kind === kind),
    ),
  );
};
