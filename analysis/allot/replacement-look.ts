import { deltaE00 } from "../colour/delta-e00.ts";
import type { Lab65 } from "../colour/lab.ts";
import type { AllotmentProblem, PlacedLeaf } from "./allotment.ts";
import { neighboursOf, type ReplacementTarget, replacementTarget } from "./replacement-target.ts";

/** Colour of one part of a face; `u95`: how far it may be off, ΔE00 at 95 %, null when not known. */
export interface PartColour {
  readonly part: string;
  readonly lab: Lab65;
  readonly u95: number | null;
}

/** Colours of the faces by their row in the difference table. */
export type FaceColours = ReadonlyMap<string, readonly PartColour[]>;

/** What one part of one side of a new leaf must look like. */
export interface PartLook {
  /** Side 0 or 1 of the opening, and the space it looks into. */
  readonly side: 0 | 1;
  readonly space: string;
  readonly part: string;
  readonly target: ReplacementTarget;
  /** The largest uncertainty of the colours beside it: the range is no surer than that. */
  readonly knownWithin: number | null;
  /** The delivered face whose part comes nearest to the colour to aim at, how near, and how the new one differs from it. */
  readonly like: { readonly face: string; readonly deltaE: number; readonly words: string } | null;
}

type Arrangement = readonly Pick<PlacedLeaf, "opening" | "place" | "leaf" | "turned">[];

/**
 * What a leaf ordered for a place must look like, part by part on both sides, so that it keeps the tolerance beside every face it
 * is seen with. A side that is seen with nothing is left out, and so is a part that no neighbour has.
 */
export const replacementLook = (
  problem: AllotmentProblem,
  arrangement: Arrangement,
  at: Pick<PlacedLeaf, "opening" | "place">,
  colours: FaceColours,
  tolerance: number,
): PartLook[] => {
  const others = arrangement.filter(({ opening, place }) => opening !== at.opening || place !== at.place);
  const neighbours = neighboursOf(problem, others, at);
  return ([0, 1] as const).flatMap((side) => {
    const beside = neighbours
      .filter((one) => one.side === side)
      .flatMap(({ face, weight, space }) =>
        (colours.get(face) ?? []).map(({ part, lab, u95 }) => ({ part, lab, u95, weight, space })),
      );
    return [...new Set(beside.map(({ part }) => part))].toSorted().map((part): PartLook => {
      const own = beside.filter((one) => one.part === part);
      const target = replacementTarget(own, tolerance);
      const known = own.flatMap(({ u95 }) => (u95 === null ? [] : [u95]));
      return {
        side,
        space: own[0]!.space,
        part,
        target,
        knownWithin: known.length === own.length ? Math.max(...known) : null,
        like: nearestFace(colours, part, target),
      };
    });
  });
};

const nearestFace = (colours: FaceColours, part: string, target: ReplacementTarget): PartLook["like"] => {
  if (target.kind === "no-neighbours") return null;
  const aim = target.kind === "target" ? target.centre : target.nearest;
  return [...colours]
    .flatMap(([face, parts]) =>
      parts
        .filter((one) => one.part === part)
        .map(({ lab }) => ({ face, deltaE: deltaE00(lab, aim), words: comparedWith(aim, lab) })),
    )
    .reduce<PartLook["like"]>(
      (best, one) =>
        best === null || one.deltaE < best.deltaE || (one.deltaE === best.deltaE && one.face < best.face) ? one : best,
      null,
    );
};

/** Along one axis alone, ΔE00: below half of what is just seen (about 1, from memory) nothing is said of it. */
const unsaidBelow = 0.5;
/** Up to twice what is just seen it is "a little", from four times on "much". */
const littleBelow = 2;
const muchFrom = 4;

const axes = [
  ["lighter", "darker"],
  ["redder", "greener"],
  ["yellower", "bluer"],
] as const;

/** How a colour looks beside another: "a little lighter and yellower than", "much darker than", "the same as". */
export const comparedWith = (colour: Lab65, other: Lab65): string => {
  const differing = axes.flatMap(([more, less], axis) => {
    const along: [number, number, number] = [other[0], other[1], other[2]];
    along[axis] = colour[axis]!;
    const size = deltaE00(along, other);
    return size < unsaidBelow ? [] : [{ size, word: colour[axis]! > other[axis]! ? more : less }];
  });
  if (differing.length === 0) return "the same as";
  const most = Math.max(...differing.map(({ size }) => size));
  const degree = most < littleBelow ? "a little " : most < muchFrom ? "" : "much ";
  const words = differing.toSorted((a, b) => b.size - a.size).map(({ word }) => word);
  return `${degree}${words.join(" and ")} than`;
};
