import { deltaE00 } from "../colour/delta-e00.ts";
import type { Lab65 } from "../colour/lab.ts";
import type { AllotmentProblem, PlacedLeaf } from "./allotment.ts";
import { pairsSeen, placesOf } from "./seen-together.ts";

/** A face seen beside the empty place, and how much the two matter. `side`: 0 or 1 of the opening. */
export interface Neighbour {
  readonly side: 0 | 1;
  readonly space: string;
  readonly face: string;
  readonly weight: number;
}

/** The faces that are seen together with a leaf of that place, when the others hang as arranged. */
export const neighboursOf = (
  problem: Pick<AllotmentProblem, "leaves" | "openings" | "spaces" | "existing" | "meetingWeight">,
  arrangement: readonly Pick<PlacedLeaf, "opening" | "place" | "leaf" | "turned">[],
  at: Pick<PlacedLeaf, "opening" | "place">,
): Neighbour[] => {
  const places = placesOf(problem);
  const empty = places.findIndex(({ opening, place }) => opening === at.opening && place === at.place);
  const faceAt = (place: number, side: 0 | 1): string | undefined => {
    const { opening, place: number } = places[place]!;
    const hung = arrangement.find((one) => one.opening === opening && one.place === number);
    const leaf = problem.leaves.find(({ id }) => id === hung?.leaf);
    return hung && leaf?.faces[(side === 1) === hung.turned ? "A" : "B"].id;
  };
  return pairsSeen(problem, places).flatMap(({ space, manner: { weight }, one, other }): Neighbour[] => {
    if ("existing" in other)
      return one.place === empty ? [{ side: one.side, space, face: other.existing, weight }] : [];
    if ((one.place === empty) === (other.place === empty)) return [];
    const [own, beside] = one.place === empty ? [one, other] : [other, one];
    const face = faceAt(beside.place, beside.side);
    return face === undefined ? [] : [{ side: own.side, space, face, weight }];
  });
};

export type ReplacementTarget =
  | {
      readonly kind: "target";
      /** The colour farthest inside: its largest weighted ΔE00 to a neighbour is `worst`. */
      readonly centre: Lab65;
      readonly worst: number;
      /** How far L*, a* or b* alone may go from the centre, lowest and highest. */
      readonly ranges: readonly [
        L: readonly [number, number],
        a: readonly [number, number],
        b: readonly [number, number],
      ];
    }
  | { readonly kind: "no-colour-fits"; readonly nearest: Lab65; readonly worst: number }
  | { readonly kind: "no-neighbours" };

/**
 * What colour one part of one face of a replacement must have, so that its weighted ΔE00 to the same part of every neighbour is at
 * most `tolerance` (less the uncertainty of their colours, which the caller takes off).
 */
export const replacementTarget = (
  neighbours: readonly { readonly lab: Lab65; readonly weight: number }[],
  tolerance: number,
): ReplacementTarget => {
  if (neighbours.length === 0) return { kind: "no-neighbours" };
  const worstAt = (colour: Lab65): number =>
    Math.max(...neighbours.map(({ lab, weight }) => weight * deltaE00(lab, colour)));
  const centre = leastAround(meanOf(neighbours.map(({ lab }) => lab)), worstAt);
  const worst = worstAt(centre);
  if (worst > tolerance) return { kind: "no-colour-fits", nearest: centre, worst };
  const reach = (axis: 0 | 1 | 2): readonly [number, number] => [
    centre[axis] - reachAlong(centre, axis, -1, worstAt, tolerance),
    centre[axis] + reachAlong(centre, axis, 1, worstAt, tolerance),
  ];
  return { kind: "target", centre, worst, ranges: [reach(0), reach(1), reach(2)] };
};

const meanOf = (colours: readonly Lab65[]): Lab65 => {
  const mean = (axis: 0 | 1 | 2) => colours.reduce((sum, colour) => sum + colour[axis], 0) / colours.length;
  return [mean(0), mean(1), mean(2)];
};

const moved = (colour: Lab65, axis: 0 | 1 | 2, by: number): Lab65 => {
  const [L, a, b] = colour;
  return [axis === 0 ? L + by : L, axis === 1 ? a + by : a, axis === 2 ? b + by : b];
};

/** Pattern search: steps to the 26 neighbours of a cube while that lowers the worst, then halves the cube, down to 0.001. */
const leastAround = (start: Lab65, worstAt: (colour: Lab65) => number): Lab65 => {
  const steps = [-1, 0, 1];
  let centre = start;
  let worst = worstAt(centre);
  for (let step = 2; step > 0.001; ) {
    const [L, a, b] = centre;
    const best = steps
      .flatMap((x) => steps.flatMap((y) => steps.map((z): Lab65 => [L + x * step, a + y * step, b + z * step])))
      .map((colour) => ({ colour, worst: worstAt(colour) }))
      .reduce((one, other) => (other.worst < one.worst ? other : one));
    if (best.worst < worst - 1e-9) ({ colour: centre, worst } = best);
    else step /= 2;
  }
  return centre;
};

/** How far one may go along an axis and stay within the tolerance, by halving, to 0.001; at most 50. */
const reachAlong = (
  centre: Lab65,
  axis: 0 | 1 | 2,
  direction: 1 | -1,
  worstAt: (colour: Lab65) => number,
  tolerance: number,
): number => {
  let inside = 0;
  let outside = 50;
  while (outside - inside > 0.001) {
    const middle = (inside + outside) / 2;
    if (worstAt(moved(centre, axis, direction * middle)) <= tolerance) inside = middle;
    else outside = middle;
  }
  return inside;
};
