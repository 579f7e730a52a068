import type { Vector3 } from "../algebra/matrix3.ts";

/** Kinds the machine may propose; a person decides. */
export type MarkKind =
  | "scratch"
  | "dent"
  | "edge-chip"
  | "stain"
  | "glue-bleed"
  | "sand-through"
  | "filler"
  | "natural";

/** What is known of a place that stands out: size along and across the grain, and how it differs from the grain as L*, a*, b*. */
export interface MarkLooks {
  readonly alongMm: number;
  readonly acrossMm: number;
  /** Distance from the nearest edge of the leaf, and from the nearest joint of its part. */
  readonly toEdgeMm: number;
  readonly toJointMm: number;
  /** Seen best as a fine line. */
  readonly line: boolean;
  readonly unlike: Vector3;
  /** L* of its lightest and darkest cells against the grain. */
  readonly lightest: number;
  readonly darkest: number;
}

/**
 * The kind a place looks most like, by its shape to the grain and by lighter or darker. Rules of the trade's eye (common practice, no
 * source): a knot is a dark dot, a ray fleck a light fleck across the grain, a mineral streak a dark one along it; sanding through
 * bares paler wood, glue sits pale along a joint, a dent has a lit and a shaded side.
 */
export const markKind = (looks: MarkLooks): MarkKind => {
  const { alongMm, acrossMm, toEdgeMm, toJointMm, line, unlike, lightest, darkest } = looks;
  const longest = Math.max(alongMm, acrossMm);
  const narrowest = Math.min(alongMm, acrossMm);
  const lighter = unlike[0] > 0;
  if (toEdgeMm <= 2 && narrowest <= 6 && longest <= 40) return "edge-chip";
  if (looksNatural(looks)) return "natural";
  if (line) return "scratch";
  if (toJointMm <= 8 && narrowest <= 8 && longest >= 30 && lighter) return "glue-bleed";
  if (longest <= 22 && lightest > 2 && darkest < -2) return "dent";
  if (longest <= 15 && Math.abs(unlike[0]) < 3) return "filler";
  return lighter ? "sand-through" : "stain";
};

const looksNatural = ({ alongMm, acrossMm, line, unlike, lightest, darkest }: MarkLooks): boolean => {
  const knot = alongMm <= 14 && acrossMm <= 14 && darkest < -12;
  const fleck = unlike[0] > 0 && alongMm <= 8 && acrossMm >= 3 * alongMm && lightest < 9;
  const streak = !line && unlike[0] < 0 && acrossMm <= 8 && alongMm >= 3.5 * acrossMm;
  return knot || fleck || streak;
};
