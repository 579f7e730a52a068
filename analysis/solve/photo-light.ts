import type { Equations, View } from "./equations.ts";
import { lightTerms, placeTerms } from "./light-field.ts";

/**
 * The light of a photo on what a view shows, as estimated: what goes with each place term, in logarithms. Kind of light and what is
 * added are the same for all its cells and go with the constant.
 */
export const lightOn = (
  { photo, warmth, extra, extraFactor }: View,
  { light }: Equations,
  estimate: Float64Array,
): Float64Array => {
  const first = light[photo]!;
  const factors = estimate.slice(first, first + placeTerms);
  factors[0]! += warmth * estimate[first + lightTerms - 1]! + extraFactor * estimate[extra]!;
  return factors;
};

/** The unknowns that sums of place terms of a view rest on, and how much of each. */
export const unknownsOfLight = (
  { photo, warmth, extra, extraFactor }: View,
  { light }: Equations,
  sums: Float64Array,
): (readonly [unknown: number, factor: number])[] => {
  const first = light[photo]!;
  return [
    ...Array.from(sums, (sum, k) => [first + k, sum] as const),
    [first + lightTerms - 1, warmth * sums[0]!],
    [extra, extraFactor * sums[0]!],
  ];
};
