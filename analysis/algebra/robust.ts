import { nthSmallest } from "./nth-smallest.ts";

/** The middle value; NaN of nothing. Leaves what it is given as it was. */
export const median = (values: ArrayLike<number>): number => {
  const some = new Float64Array(values);
  const half = some.length >> 1;
  const upper = nthSmallest(some, half);
  return some.length % 2 ? upper : (nthSmallest(some.subarray(0, half), half - 1) + upper) / 2;
};

/** Spread that outliers do not pull: 1.4826 times the median distance from the median, the SD where values are Gaussian. */
export const robustSpread = (values: ArrayLike<number>, centre = median(values)): number =>
  1.4826 * median(Float64Array.from(values, (v) => Math.abs(v - centre)));

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
