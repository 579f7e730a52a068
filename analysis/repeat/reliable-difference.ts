import type { Verdict } from "../compare/verdict.ts";
import type { Repeatability } from "./repeatability.ts";
import { limitFactor } from "./spread.ts";

/** Photos behind a difference of two faces: of each with a reference in it, and those that show both. */
export interface PhotosBehind {
  readonly one: number;
  readonly other: number;
  readonly together: number;
  /** No camera took photos of both. */
  readonly otherCamera: boolean;
}

/**
 * What repeat photos of two faces of one colour would differ by at most, CIEDE2000, with 95 %; null where too few
 * repeats tell. Means of several photos are the surer: the limit goes with the root of one over their number. What cameras
 * differ by is no surer for that.
 * Source: ISO 5725-6:1994, 4.2 (from memory).
 */
export const limitBetween = (
  { byReference, sideBySide, betweenCameras }: Repeatability,
  { one, other, together, otherCamera }: PhotosBehind,
): number | null => {
  if (together > 0) return sideBySide?.enough ? sideBySide.all.limit / Math.sqrt(together) : null;
  if (one === 0 || other === 0 || !byReference?.enough) return null;
  const repeat = byReference.all.deltaE * Math.sqrt((1 / one + 1 / other) / 2);
  return limitFactor * Math.hypot(repeat, otherCamera ? (betweenCameras ?? 0) : 0);
};

/**
 * The verdict on a difference (CIEDE2000) that is no larger than the limit of repeats: no reliable difference. It is never
 * "differs"; and where photos of one face differ by more than is agreed, it is no match either, however small it is.
 */
export const verdictWithinRepeats = (verdict: Verdict["kind"], limit: number, tolerance: number): Verdict["kind"] =>
  limit > tolerance || verdict === "differs" ? "cannot-tell" : verdict;
