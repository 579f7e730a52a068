import type { Verdict } from "../compare/verdict.ts";
import type { Repeatability } from "./repeatability.ts";
import { normalBelow } from "./tails.ts";

/** Photos behind a difference of two faces: of each with a reference in it, and those that show both. */
export interface PhotosBehind {
  readonly one: number;
  readonly other: number;
  readonly together: number;
}

/**
 * What repeat photos of two faces of one colour would differ by at most, CIEDE2000, with 95 %; null where too few
 * repeats tell. Means of several photos are the surer: the limit goes with the root of one over their number.
 * Source: ISO 5725-6:1994, 4.2 (from memory).
 */
export const limitBetween = (
  { byReference, sideBySide }: Repeatability,
  { one, other, together }: PhotosBehind,
): number | null => {
  if (together > 0) return sideBySide?.enough ? sideBySide.all.limit / Math.sqrt(together) : null;
  if (one === 0 || other === 0 || !byReference?.enough) return null;
  return byReference.all.limit * Math.sqrt((1 / one + 1 / other) / 2);
};

/** A difference as told: CIEDE2000, half-width of its 95 % interval, what it counts as. */
interface Told {
  readonly deltaE: number;
  readonly u95: number;
  readonly verdict: Verdict["kind"];
}

/**
 * A difference is no surer than repeat photos show: where their limit is wider than the interval told, it takes its place,
 * and a verdict that does not hold with it becomes "cannot-tell". A verdict never becomes a surer one. `withinRepeats`:
 * the difference is below the limit, photos of one face differ as much.
 */
export const holdToRepeats = <D extends Told>(
  difference: D,
  limit: number,
  tolerance: number,
  confidence: number,
): D & { readonly withinRepeats: boolean } => {
  const { deltaE, u95, verdict } = difference;
  const withinRepeats = deltaE < limit;
  if (limit <= u95) return { ...difference, withinRepeats };
  const spread = limit / 1.96;
  const within = normalBelow((tolerance - deltaE) / spread) - normalBelow((-tolerance - deltaE) / spread);
  const holds = (verdict === "match" && within >= confidence) || (verdict === "differs" && within <= 1 - confidence);
  return { ...difference, u95: limit, verdict: holds ? verdict : "cannot-tell", withinRepeats };
};
