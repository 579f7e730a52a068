import type { AllotmentProblem, Leaf, PlacedLeaf } from "./allotment.ts";
import { type Neighbour, neighboursOf } from "./replacement-target.ts";

/** A delivered leaf that a new one may look like, which way round it would hang, and its largest weighted difference there. */
export interface Like {
  readonly leaf: string;
  readonly turned: boolean;
  readonly worst: number;
}

type At = Pick<PlacedLeaf, "opening" | "place">;

/**
 * Which delivered leaf a new one for each empty place may look like, both faces together, so that nothing seen there passes the tolerance:
 * a leaf whose two faces differ more than any delivered one's cannot be ordered. Place after place, each beside those before it;
 * any leaf may be copied, in whatever size is needed, as often as it is needed. Null where none would do.
 */
export const likeDelivered = (
  problem: AllotmentProblem,
  arrangement: readonly Pick<PlacedLeaf, "opening" | "place" | "leaf" | "turned">[],
  empty: readonly At[],
  tolerance: number,
): (Like | null)[] => {
  const hung = [...arrangement];
  const free = problem.leaves.filter(({ state }) => state === "free");
  return empty.map((at) => {
    const best = bestTurns(problem, free, neighboursOf(problem, hung, at))[0];
    if (!best || best.worst > tolerance) return null;
    hung.push({ ...at, leaf: best.leaf, turned: best.turned });
    return best;
  });
};

/** Each leaf the way round that suits the neighbours best, the leaf that goes best with them first. */
export const bestTurns = (
  { differences: { faces, deltaE }, notComparedAs }: AllotmentProblem,
  leaves: readonly Leaf[],
  neighbours: readonly Neighbour[],
): Like[] => {
  const row = new Map(faces.map((id, index) => [id, index]));
  const worstOf = ({ faces: { A, B } }: Leaf, turned: boolean): number =>
    neighbours.reduce((worst, { side, face, weight }) => {
      const own = (side === 1) === turned ? A.id : B.id;
      return Math.max(worst, weight * (deltaE[row.get(own)!]![row.get(face)!] ?? notComparedAs));
    }, 0);
  return leaves
    .map((leaf): Like => {
      const straight = worstOf(leaf, false);
      const turned = leaf.mayTurn ? worstOf(leaf, true) : straight;
      return { leaf: leaf.id, turned: turned < straight, worst: Math.min(straight, turned) };
    })
    .toSorted((a, b) => a.worst - b.worst || (a.leaf < b.leaf ? -1 : 1));
};
