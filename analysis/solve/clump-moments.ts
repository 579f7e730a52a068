import type { Clump } from "./equations.ts";
import { placeTerms } from "./light-field.ts";

/** All that the equations keep of the cells of a clump in one channel. */
export interface Moments {
  /**
   * Sums of weight times term times term, `placeTerms` squared a pair of views, the later view first; of a view with itself the lower
   * triangle alone.
   */
  readonly products: Float64Array;
  /** Sums of weight times term times what was seen, `placeTerms` a view. */
  readonly pulls: Float64Array;
  /** Weighted squares of what was seen. */
  squares: number;
  /** Logarithms of the variances. */
  logVariance: number;
}

const block = placeTerms * placeTerms;

export const noMoments = ({ views: { length } }: Clump): Moments => ({
  products: new Float64Array(length * length * block),
  pulls: new Float64Array(length * placeTerms),
  squares: 0,
  logVariance: 0,
});

/** How one channel of a clump is weighed: weights 0..1 of its cells view by view, variance of a cell, and what the wood adds. */
export interface Weighing {
  readonly channel: 0 | 1 | 2;
  readonly weights: readonly Float64Array[];
  readonly noise: number;
  readonly wood: number;
}

/**
 * Adds one piece of wood to the moments, `times` 1, or takes it out again, -1. Its cells in several photos share what the wood adds:
 * that variance goes between them, the noise of the photos within, so that their weights are P - P 1 1' P c, with P the precisions
 * of the cells and c = wood / (1 + wood 1' P 1) (Sherman and Morrison 1950, from memory).
 */
export const addPiece = (
  moments: Moments,
  { views, cellOf }: Clump,
  piece: number,
  { channel, weights, noise, wood }: Weighing,
  times: 1 | -1,
): void => {
  const count = views.length;
  const from = piece * count;
  let total = 0;
  let best = 0;
  let pull = 0;
  let product = 1;
  for (let view = 0; view < count; view++) {
    const cell = cellOf[from + view]!;
    const weight = cell < 0 ? 0 : weights[view]![cell]!;
    if (weight === 0) continue;
    best = Math.max(best, weight);
    total += weight / noise;
    pull += (weight / noise) * views[view]!.logs[channel][cell]!;
    product *= weight / noise;
  }
  if (best === 0) return;
  const shared = 1 + (wood / best) * total;
  const through = wood / best / shared;
  moments.logVariance += times * Math.log(shared / product);
  for (let view = 0; view < count; view++) {
    const cell = cellOf[from + view]!;
    const own = cell < 0 ? 0 : weights[view]![cell]! / noise;
    if (own === 0) continue;
    const { terms, logs } = views[view]!;
    const seen = logs[channel][cell]!;
    const weighted = times * own * (seen - through * pull);
    moments.squares += seen * weighted;
    const at = placeTerms * cell;
    for (let k = 0; k < placeTerms; k++) moments.pulls[placeTerms * view + k]! += weighted * terms[at + k]!;
    addSquare(moments.products, block * (count * view + view), times * own * (1 - through * own), terms, at);
    for (let other = 0; other < view; other++) {
      const otherCell = cellOf[from + other]!;
      const weight = otherCell < 0 ? 0 : (-times * through * own * weights[other]![otherCell]!) / noise;
      if (weight === 0) continue;
      const to = block * (count * view + other);
      addCross(moments.products, to, weight, terms, at, views[other]!.terms, placeTerms * otherCell);
    }
  }
};

/** Adds to the lower triangle of a block: the terms of one cell with themselves. */
const addSquare = (products: Float64Array, from: number, weight: number, terms: Float64Array, at: number): void => {
  for (let k = 0; k < placeTerms; k++) {
    const left = weight * terms[at + k]!;
    for (let m = 0; m <= k; m++) products[from + placeTerms * k + m]! += left * terms[at + m]!;
  }
};

const addCross = (
  products: Float64Array,
  from: number,
  weight: number,
  terms: Float64Array,
  at: number,
  others: Float64Array,
  otherAt: number,
): void => {
  for (let k = 0; k < placeTerms; k++) {
    const left = weight * terms[at + k]!;
    for (let m = 0; m < placeTerms; m++) products[from + placeTerms * k + m]! += left * others[otherAt + m]!;
  }
};

/** Which place term stands at each of `unknownsOf`: the constant for the colour, the gain, the kind of light and the extra. */
const termOf = [0, 0, 1, 2, 3, 4, 5, 0, 0] as const;
const perView = termOf.length;

/** Adds moments to the matrix and the right side. `entries`: where the pairs of the clump's unknowns stand in `values`; `places`: its unknowns. */
export const layMoments = (
  { views }: Clump,
  { products, pulls }: Moments,
  entries: Int32Array,
  places: readonly number[],
  values: Float64Array,
  right: Float64Array,
): void => {
  const count = views.length;
  const factors = views.flatMap(({ warmth, extraFactor }) => [1, 1, 1, 1, 1, 1, 1, warmth, extraFactor]);
  let pair = 0;
  for (let i = 0; i < factors.length; i++) {
    const view = Math.floor(i / perView);
    const term = termOf[i - perView * view]!;
    right[places[i]!]! += factors[i]! * pulls[placeTerms * view + term]!;
    for (let j = 0; j <= i; j++) {
      const other = Math.floor(j / perView);
      const otherTerm = termOf[j - perView * other]!;
      const within = view === other && otherTerm > term ? placeTerms * otherTerm + term : placeTerms * term + otherTerm;
      values[entries[pair++]!]! += factors[i]! * factors[j]! * products[block * (count * view + other) + within]!;
    }
  }
};
