import type { AllotmentProblem, FaceName } from "../../../analysis/allot/allotment.ts";

interface Hung {
  readonly opening: string;
  readonly leaf: string;
  readonly turned: boolean;
}

interface Cost {
  readonly worst: number;
  /** Every weighted difference, the largest first. */
  readonly largest: readonly number[];
  readonly sum: number;
}

/** Below 0 when the one is better: by the largest differences, so many of them, then by the sum. */
const compare = (one: Cost, other: Cost, depth: number): number => {
  for (let i = 0; i < depth; i++) {
    const by = (one.largest[i] ?? 0) - (other.largest[i] ?? 0);
    if (by !== 0) return by;
  }
  return one.sum - other.sum;
};

/**
 * The best plan by trying every one there is: least worst, then the next largest and so on for `depth` of them, and the least sum among
 * those. Written without any code of the allotment. Null when no plan exists. For jobs of up to seven or eight leaves.
 */
export const bestOfEveryPlan = (problem: AllotmentProblem, depth = 1): Cost | null => {
  const places = problem.openings.flatMap((opening) => Array.from({ length: opening.leaves }, () => opening));
  let best: Cost | null = null;
  const hang = (hung: readonly Hung[]) => {
    const opening = places[hung.length];
    if (!opening) {
      if (!locksKept(problem, hung)) return;
      const cost = costOf(problem, hung);
      if (!best || compare(cost, best, depth) < 0) best = cost;
      return;
    }
    for (const leaf of problem.leaves) {
      if (leaf.state === "out" || hung.some((one) => one.leaf === leaf.id)) continue;
      const fits = "spec" in leaf.fits ? leaf.fits.spec === opening.spec : leaf.fits.openings.includes(opening.id);
      if (!fits) continue;
      for (const turned of leaf.mayTurn ? [false, true] : [false]) {
        const facing = (side: number): FaceName => ((side === 0) !== turned ? "A" : "B");
        const banned = problem.bans.some(
          (ban) =>
            ban.leaf === leaf.id &&
            ("opening" in ban
              ? ban.opening === opening.id
              : opening.spaces.some(
                  (space, side) => space === ban.space && (ban.face === undefined || ban.face === facing(side)),
                )),
        );
        if (!banned) hang([...hung, { opening: opening.id, leaf: leaf.id, turned }]);
      }
    }
  };
  hang([]);
  return best;
};

const locksKept = ({ locks }: AllotmentProblem, hung: readonly Hung[]): boolean =>
  locks.every((lock) =>
    hung.some(
      (one) => one.leaf === lock.leaf && one.opening === lock.opening && (lock.turned ?? one.turned) === one.turned,
    ),
  );

const costOf = (problem: AllotmentProblem, hung: readonly Hung[]): Cost => {
  const { faces, deltaE } = problem.differences;
  const costs: number[] = [];
  for (const { id: space, weight, pairs = [] } of problem.spaces) {
    const seen = hung.flatMap(({ opening: id, leaf, turned }, place) => {
      const opening = problem.openings.find((one) => one.id === id)!;
      const shown = problem.leaves.find((one) => one.id === leaf)!.faces;
      return [0, 1]
        .filter((side) => opening.spaces[side] === space)
        .map((side) => ({ place, side, opening: id, face: ((side === 0) !== turned ? shown.A : shown.B).id }));
    });
    const old = problem.existing
      .filter((face) => face.space === space)
      .map(({ id }) => ({ place: -1, side: 0, opening: id, face: id }));
    const all = [...seen, ...old];
    for (let i = 0; i < all.length; i++)
      for (let j = 0; j < i; j++) {
        const [one, other] = [all[i]!, all[j]!];
        if (one.place < 0 && other.place < 0) continue;
        const own = pairs.find(
          ({ one: a, other: b }) =>
            [a, b].includes(one.opening) && [a, b].includes(other.opening) && one.opening !== other.opening,
        );
        const meeting = one.opening === other.opening && one.place !== other.place && one.side === other.side;
        const factor = meeting ? problem.meetingWeight : (own?.weight ?? weight);
        if (factor > 0)
          costs.push(factor * (deltaE[faces.indexOf(one.face)]![faces.indexOf(other.face)] ?? problem.notComparedAs));
      }
  }
  const largest = costs.toSorted((a, b) => b - a);
  return { worst: largest[0] ?? 0, largest, sum: costs.reduce((a, b) => a + b, 0) };
};
