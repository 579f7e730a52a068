import { nthSmallest } from "./nth-smallest.ts";

/** The middle value; NaN of nothing. Leaves what it is given as it was. */
export const median = (values: ArrayLike<number>): number => middleOf(new Float64Array(values));

/** The same, putting the values in another order on the way. */
const middleOf = (some: Float64Array): number => {
  const half = some.length >> 1;
  const upper = nthSmallest(some, half);
  if (some.length % 2 === 1 || some.length === 0) return upper;
  let lower = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < half; i++) lower = Math.max(lower, some[i]!);
  return (lower + upper) / 2;
};

/** Spread that outliers do not pull: 1.4826 times the median distance from the median, the SD where values are Gaussian. */
export const robustSpread = (values: ArrayLike<number>, centre = median(values)): number => {
  const apart = new Float64Array(values);
  for (let i = 0; i < apart.length; i++) apart[i] = Math.abs(apart[i]! - centre);
  return 1.4826 * middleOf(apart);
};

/**
 * Weight 1 up to `inner` spreads, falling smoothly to 0 at `outer` (Tukey's biweight, flat in the middle so that
 * good values keep their full weight; form from memory).
 */
export const tukeyWeight = (distance: number, inner: number, outer: number): number => {
  const t = Math.abs(distance);
  if (t <= inner) return 1;
  if (t >= outer) return 0;
  const u = (t - inner) / (outer - inner);
  return (1 - u * u) ** 2;
};
