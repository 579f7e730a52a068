import { addTo, type Envelope, factorEnvelope, makeEnvelope, solveFactored } from "../algebra/envelope-cholesky.ts";
import { robustSpread, tukeyWeight } from "../algebra/robust.ts";
import type { Equations, Seen } from "./equations.ts";
import { lightTerms } from "./light-field.ts";
import { model, type Spreads } from "./model-constants.ts";
import { type Order, unknownsOf } from "./order-unknowns.ts";

/** One of the three channels solved. */
export interface ChannelSolution {
  readonly estimate: Float64Array;
  readonly factor: Envelope;
  readonly place: Int32Array;
  /** Weight of each thing seen, 0..1. */
  readonly weights: Float64Array;
  /** Logarithm of how likely all that was seen is under the model, up to a constant of the seen alone. */
  readonly evidence: number;
}

/**
 * Estimate, covariance factor and weights of one channel: generalised least squares with proper priors, so that the
 * matrix has full rank whatever is missing, and three rounds of weights. Cells of the same wood in several photos share
 * what the wood adds: its variance goes between them, the noise of the photos within.
 */
export const solveChannel = (equations: Equations, order: Order, channel: 0 | 1 | 2): ChannelSolution => {
  const weights = new Float64Array(equations.seen.length).fill(1);
  let solution = solveOnce(equations, order, channel, weights);
  for (let round = 1; round < model.robust.rounds; round++) {
    reweigh(equations, channel, solution.estimate, weights);
    solution = solveOnce(equations, order, channel, weights);
  }
  return { ...solution, place: order.place, weights };
};

const names = ["lightness", "warmth", "tint"] as const;

const of = (spread: Spreads, channel: 0 | 1 | 2): number => spread[names[channel]];

/** Sums gathered while the equations are laid down. */
interface Sums {
  readonly normal: Envelope;
  readonly right: Float64Array;
  /** Weighted squares of what was seen, and logarithms of all variances. */
  squares: number;
  logVariance: number;
}

const solveOnce = (equations: Equations, { place, first }: Order, channel: 0 | 1 | 2, weights: Float64Array) => {
  const { parts, patches, unknowns } = equations;
  const size = unknowns.length;
  const sums: Sums = { normal: makeEnvelope(first), right: new Float64Array(size), squares: 0, logVariance: 0 };
  layTies(equations, place, channel, sums);
  for (const { cells, wood } of parts) layClump(equations, place, channel, weights, cells, wood[channel], sums);
  for (const at of patches) layClump(equations, place, channel, weights, [[at]], 0, sums);
  const factored = factorEnvelope(sums.normal);
  if (factored.kind !== "factored") throw new Error(`no prior holds the unknown in row ${factored.row}`);
  const ordered = solveFactored(factored.factor, sums.right.slice());
  const explained = sums.right.reduce((sum, value, i) => sum + value * ordered[i]!, 0);
  return {
    estimate: Float64Array.from(unknowns, (_, i) => ordered[place[i]!]!),
    factor: factored.factor,
    evidence: -0.5 * (sums.squares - explained + sums.logVariance + factored.logDeterminant),
  };
};

const layTies = ({ ties }: Equations, place: Int32Array, channel: 0 | 1 | 2, sums: Sums): void => {
  for (const { one, other, mean, spread } of ties) {
    const weight = 1 / of(spread, channel) ** 2;
    const i = place[one]!;
    addTo(sums.normal, i, i, weight);
    sums.right[i]! += weight * mean[channel];
    if (other !== null) {
      const j = place[other]!;
      addTo(sums.normal, j, j, weight);
      addTo(sums.normal, i, j, -weight);
      sums.right[j]! -= weight * mean[channel];
    }
    sums.squares += weight * mean[channel] ** 2;
    sums.logVariance -= Math.log(weight);
  }
};

/** Moments of two sets of light terms: all that a pair of photos needs to keep of the cells they share. */
const block = lightTerms * lightTerms;

/**
 * Lays down the cells of one part (or one patch). Each entry of `cells` is one piece of wood, as several photos show it;
 * `wood` is the variance it adds to all of them alike. Sums run over light terms, photo against photo, and only then go
 * into the matrix: a part has hundreds of cells but is in few photos.
 */
const layClump = (
  { seen, light }: Equations,
  place: Int32Array,
  channel: 0 | 1 | 2,
  weights: Float64Array,
  cells: readonly (readonly number[])[],
  wood: number,
  sums: Sums,
): void => {
  const views: Seen[] = [];
  const viewOf = new Map<number, number>();
  for (const places of cells)
    for (const at of places) if (!viewOf.has(seen[at]!.colour)) viewOf.set(seen[at]!.colour, views.push(seen[at]!) - 1);
  const count = views.length;
  if (!views[0]) return;
  const moments = new Float64Array(count * count * block);
  const pulls = new Float64Array(count * lightTerms);
  const precision = 1 / of(views[0].noise, channel) ** 2;

  for (const places of cells) {
    let total = 0;
    let best = 0;
    for (const at of places) {
      total += weights[at]! * precision;
      best = Math.max(best, weights[at]!);
    }
    if (best === 0) continue;
    const through = wood / best / (1 + (wood / best) * total);
    sums.logVariance += Math.log(1 + (wood / best) * total);
    for (const one of places) {
      const own = weights[one]! * precision;
      if (own === 0) continue;
      sums.logVariance -= Math.log(own);
      const view = viewOf.get(seen[one]!.colour)!;
      const terms = seen[one]!.terms;
      const y = seen[one]!.log[channel];
      for (const other of places) {
        const weight = (one === other ? own : 0) - through * own * weights[other]! * precision;
        const z = seen[other]!.log[channel];
        sums.squares += weight * y * z;
        for (let k = 0; k < lightTerms; k++) pulls[view * lightTerms + k]! += weight * terms[k]! * z;
        const against = viewOf.get(seen[other]!.colour)!;
        if (against > view) continue;
        const otherTerms = seen[other]!.terms;
        const from = (view * count + against) * block;
        for (let k = 0; k < lightTerms; k++) {
          const left = weight * terms[k]!;
          for (let m = 0; m < lightTerms; m++) moments[from + k * lightTerms + m]! += left * otherTerms[m]!;
        }
      }
    }
  }
  const ids = views.map((view) => unknownsOf(view, light).map((unknown) => place[unknown]!));
  for (let i = 0; i < count; i++) {
    const own = termOf(views[i]!);
    own.forEach(({ term, factor }, k) => {
      sums.right[ids[i]![k]!]! += factor * pulls[i * lightTerms + term]!;
      for (let j = 0; j <= i; j++) {
        const others = termOf(views[j]!);
        const from = (i * count + j) * block + term * lightTerms;
        for (let m = 0; m < (i === j ? k + 1 : others.length); m++) {
          const other = others[m]!;
          const value = factor * other.factor * moments[from + other.term]!;
          addTo(sums.normal, ids[i]![k]!, ids[j]![m]!, value);
        }
      }
    });
  }
};

/** Which light term stands at each of `unknownsOf`, and its factor: colour and extra go with the constant term. */
const termOf = ({ extraFactor }: Seen) => [
  { term: 0, factor: 1 },
  ...Array.from({ length: lightTerms }, (_, term) => ({ term, factor: 1 })),
  { term: 0, factor: extraFactor },
];

const predict = ({ light }: Equations, { photo, colour, extra, extraFactor, terms }: Seen, estimate: Float64Array) => {
  let sum = estimate[colour]! + extraFactor * estimate[extra]!;
  for (let k = 0; k < lightTerms; k++) sum += terms[k]! * estimate[light[photo]! + k]!;
  return sum;
};

/** Weights from residuals over the robust spread of the part in its photo: figured wood is not an outlier. */
const reweigh = (equations: Equations, channel: 0 | 1 | 2, estimate: Float64Array, weights: Float64Array): void => {
  const byColour = new Map<number, number[]>();
  equations.seen.forEach(({ part, colour }, at) => {
    if (part < 0) return;
    const list = byColour.get(colour);
    if (list) list.push(at);
    else byColour.set(colour, [at]);
  });
  const least = of(model.cellNoise, channel);
  for (const list of byColour.values()) {
    const residuals = list.map((at) => {
      const one = equations.seen[at]!;
      return one.log[channel] - predict(equations, one, estimate);
    });
    const spread = Math.max(robustSpread(residuals), least);
    list.forEach((at, i) => {
      weights[at] = tukeyWeight(residuals[i]! / spread, model.robust.inner, model.robust.outer);
    });
  }
};
