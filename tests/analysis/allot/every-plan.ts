import type { AllotmentProblem, FaceName, Space } from "../../../analysis/allot/allotment.ts";

interface Hung {
  readonly opening: string;
  readonly leaf: string;
  readonly turned: boolean;
}

interface Cost {
  readonly worst: number;
  /** Every weighted difference, the largest first. */
  readonly largest: readonly number[];
  /** Spaces whose largest weighted difference passes the tolerance. */
  readonly spacesOver: number;
  readonly sum: number;
}

/** Below 0 when the one is better: by the largest differences, so many of them, then by the sum. */
const compare = (one: Cost, other: Cost, depth: number): number => {
  for (let i = 0; i < Math.min(depth, one.largest.length); i++) {
    const by = one.largest[i]! - (other.largest[i] ?? 0);
    if (Math.abs(by) > 1e-9) return by;
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
      if (leaf.hand && opening.hand && leaf.hand !== opening.hand) continue;
      if ((opening.fireMinutes ?? 0) > (leaf.fireMinutes ?? 0)) continue;
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

/** A face where it is seen in a space; `seat`: its opening, or the existing face itself. */
interface Shown {
  readonly place: number;
  readonly side: number;
  readonly seat: string;
  readonly id: string;
  readonly lightness: number | null;
  readonly mark: number;
}

const costOf = (problem: AllotmentProblem, hung: readonly Hung[]): Cost => {
  const costs: number[] = [];
  let spacesOver = 0;
  for (const space of problem.spaces) {
    const seen = hung.flatMap(({ opening: seat, leaf, turned }, place): Shown[] => {
      const opening = problem.openings.find((one) => one.id === seat)!;
      const shown = problem.leaves.find((one) => one.id === leaf)!.faces;
      return [0, 1]
        .filter((side) => opening.spaces[side] === space.id)
        .map((side) => ({ place, side, seat, mark: 0, ...((side === 0) !== turned ? shown.A : shown.B) }));
    });
    const old = problem.existing
      .filter((face) => face.space === space.id)
      .map(({ id, lightness = null }): Shown => ({ place: -1, side: 0, seat: id, id, lightness, mark: 0 }));
    const here = seen.map(({ mark }) => mark * (space.marksCount ?? 1));
    const all = [...seen, ...old];
    for (const [i, one] of all.entries())
      for (const other of all.slice(i + 1)) if (one.place >= 0) here.push(countOf(problem, space, one, other));
    if (Math.max(0, ...here) > (problem.tolerance ?? Number.POSITIVE_INFINITY)) spacesOver++;
    costs.push(...here);
  }
  const largest = costs.toSorted((a, b) => b - a);
  return { worst: largest[0] ?? 0, largest, spacesOver, sum: costs.reduce((a, b) => a + b, 0) };
};

/** One-sided quantiles of the normal distribution, as printed in tables of it. */
const quantiles: Readonly<Record<number, number>> = { 0.5: 0, 0.9: 1.2815516, 0.95: 1.6448536, 0.975: 1.959964 };

const countOf = (problem: AllotmentProblem, space: Space, one: Shown, other: Shown): number => {
  const { faces, deltaE, u95 } = problem.differences;
  const [i, j] = [faces.indexOf(one.id), faces.indexOf(other.id)];
  const meeting = one.seat === other.seat && one.place !== other.place && one.side === other.side;
  const [wall, otherWall] = [one, other].map(({ seat }) => space.walls?.findIndex((ids) => ids.includes(seat)) ?? -1);
  const told = !meeting && wall! >= 0 && otherWall! >= 0;
  const ids = space.walls?.[wall!] ?? [];
  const steps = told && wall === otherWall ? ids.indexOf(other.seat) - ids.indexOf(one.seat) : 0;
  const beside = Math.abs(steps) === 1;
  const sight = told && wall !== otherWall ? "across" : beside ? "beside" : Math.abs(steps) > 1 ? "apart" : null;
  const own = space.pairs?.find(
    ({ one: a, other: b }) => (a === one.seat && b === other.seat) || (a === other.seat && b === one.seat),
  );
  const weight = meeting
    ? problem.meetingWeight
    : (own?.weight ?? space.weight * ((sight && problem.sight?.[sight]) ?? 1));
  const difference = deltaE[i]![j] ?? null;
  const upper =
    difference === null
      ? problem.notComparedAs
      : difference + (quantiles[problem.confidence ?? 0.95]! / 1.959964) * (u95?.[i]?.[j] ?? 0);
  let adds = 0;
  if (one.lightness !== null && other.lightness !== null) {
    const [first, second] = steps > 0 ? [one.lightness, other.lightness] : [other.lightness, one.lightness];
    const back = space.gentle?.goes === "lighter" ? first - second : second - first;
    if (steps !== 0 && space.gentle && back > 0) adds += back * space.gentle.stepBack;
    const average = space.lightBesideDark?.average ?? 0;
    const [light, dark] = [Math.max(one.lightness, other.lightness), Math.min(one.lightness, other.lightness)];
    if ((meeting || beside) && light > average && dark < average) adds += space.lightBesideDark?.adds ?? 0;
  }
  return weight * (upper + adds);
};
