import { addTo, type Envelope, factorEnvelope, makeEnvelope, solveFactored } from "../algebra/envelope-cholesky.ts";
import { narrowOrder } from "../algebra/narrow-order.ts";
import { robustSpread, tukeyWeight } from "../algebra/robust.ts";
import type { Equations, Seen } from "./equations.ts";
import { fieldTerms } from "./light-field.ts";
import { model, type TwoSpreads } from "./model-constants.ts";

/** Where each unknown stands in the matrix, and how wide its row is: the same for all three channels. */
export interface Order {
  readonly place: Int32Array;
  readonly first: Int32Array;
}

/** Unknowns of one thing seen: its colour, gain and field of the photo, the extra. */
export const slots = fieldTerms + 3;

export const writeSlots = (
  one: Seen,
  gain: readonly number[],
  unknowns: Int32Array,
  factors: Float64Array,
  at = 0,
): void => {
  const g = gain[one.photo]!;
  unknowns[at] = one.colour;
  factors[at] = 1;
  unknowns[at + 1] = g;
  factors[at + 1] = 1;
  for (let k = 0; k < fieldTerms; k++) {
    unknowns[at + 2 + k] = g + 1 + k;
    factors[at + 2 + k] = one.field[k]!;
  }
  unknowns[at + 2 + fieldTerms] = one.extra;
  factors[at + 2 + fieldTerms] = one.extraFactor;
};

/** Cells of one piece of wood, and each patch by itself. */
const groupsOf = ({ parts, patches }: Equations): (readonly number[])[] => [
  ...parts.flatMap(({ cells }) => cells),
  ...patches.map((at) => [at]),
];

export const orderUnknowns = (equations: Equations): Order => {
  const { unknowns, seen, gain, ties, hubs } = equations;
  const neighbours = unknowns.map(() => new Set<number>());
  const join = (set: readonly number[]) => {
    for (const i of set) for (const j of set) if (i !== j) neighbours[i]!.add(j);
  };
  const done = new Set<string>();
  for (const group of groupsOf(equations)) {
    const key = group.map((at) => `${seen[at]!.colour} ${seen[at]!.extra}`).join();
    if (done.has(key)) continue;
    done.add(key);
    const ids = new Int32Array(slots * group.length);
    group.forEach((at, i) => {
      writeSlots(seen[at]!, gain, ids, new Float64Array(ids.length), i * slots);
    });
    join([...new Set(ids)]);
  }
  for (const { one, other } of ties) if (other !== null) join([one, other]);
  const place = narrowOrder(neighbours, hubs);
  const first = new Int32Array(unknowns.length);
  neighbours.forEach((near, i) => {
    first[place[i]!] = Math.min(place[i]!, ...[...near].map((j) => place[j]!));
  });
  return { place, first };
};

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

const of = (spread: TwoSpreads, channel: number): number => (channel === 0 ? spread.lightness : spread.colour);

const solveOnce = (equations: Equations, { place, first }: Order, channel: 0 | 1 | 2, weights: Float64Array) => {
  const { seen, ties, gain, unknowns, parts } = equations;
  const normal = makeEnvelope(first);
  const right = new Float64Array(unknowns.length);
  let misfit = 0;
  let logSpread = 0;

  for (const { one, other, mean, spread } of ties) {
    const weight = 1 / of(spread, channel) ** 2;
    const i = place[one]!;
    addTo(normal, i, i, weight);
    right[i]! += weight * mean[channel];
    if (other !== null) {
      const j = place[other]!;
      addTo(normal, j, j, weight);
      addTo(normal, i, j, -weight);
      right[j]! -= weight * mean[channel];
    }
    misfit += weight * mean[channel] ** 2;
    logSpread -= Math.log(weight);
  }

  for (const group of groupsOf(equations)) {
    const count = group.length;
    const ids = new Int32Array(slots * count);
    const factors = new Float64Array(slots * count);
    const own = new Float64Array(count);
    let total = 0;
    let best = 0;
    group.forEach((at, i) => {
      const one = seen[at]!;
      writeSlots(one, gain, ids, factors, i * slots);
      own[i] = weights[at]! / of(one.noise, channel) ** 2;
      total += own[i]!;
      best = Math.max(best, weights[at]!);
    });
    if (best === 0) continue;
    const { part } = seen[group[0]!]!;
    const shared = part < 0 ? 0 : parts[part]!.wood[channel] / best;
    const through = shared / (1 + shared * total);
    for (let i = 0; i < ids.length; i++) ids[i] = place[ids[i]!]!;
    for (let i = 0; i < count; i++) {
      for (let j = 0; j <= i; j++) {
        const weight = (i === j ? own[i]! : 0) - through * own[i]! * own[j]!;
        scatter(normal, ids, factors, i * slots, j * slots, weight, i === j);
        const y = seen[group[j]!]!.log[channel];
        for (let k = 0; k < slots; k++) right[ids[i * slots + k]!]! += weight * factors[i * slots + k]! * y;
        const z = seen[group[i]!]!.log[channel];
        misfit += (i === j ? 1 : 2) * weight * y * z;
        if (i !== j)
          for (let k = 0; k < slots; k++) right[ids[j * slots + k]!]! += weight * factors[j * slots + k]! * z;
      }
      logSpread -= Math.log(own[i]! || 1);
    }
    logSpread += Math.log(1 + shared * total);
  }
  const factored = factorEnvelope(normal);
  if (factored.kind !== "factored") throw new Error(`no prior holds the unknown in row ${factored.row}`);
  const ordered = solveFactored(factored.factor, Float64Array.from(right));
  let explained = 0;
  for (let i = 0; i < right.length; i++) explained += right[i]! * ordered[i]!;
  return {
    estimate: Float64Array.from(unknowns, (_, i) => ordered[place[i]!]!),
    factor: factored.factor,
    evidence: -0.5 * (misfit - explained + logSpread + factored.logDeterminant),
  };
};

/** Adds weight * a b^T of two things seen, both halves when they are two. */
const scatter = (
  normal: Envelope,
  ids: Int32Array,
  factors: Float64Array,
  a: number,
  b: number,
  weight: number,
  same: boolean,
): void => {
  for (let k = 0; k < slots; k++) {
    const left = weight * factors[a + k]!;
    const i = ids[a + k]!;
    for (let m = 0; m < (same ? k + 1 : slots); m++) {
      const j = ids[b + m]!;
      addTo(normal, i, j, (i === j && !same ? 2 : 1) * left * factors[b + m]!);
    }
  }
};

const predict = ({ gain }: Equations, one: Seen, estimate: Float64Array): number => {
  const g = gain[one.photo]!;
  let sum = estimate[one.colour]! + estimate[g]! + one.extraFactor * estimate[one.extra]!;
  for (let k = 0; k < fieldTerms; k++) sum += one.field[k]! * estimate[g + 1 + k]!;
  return sum;
};

/** Weights from residuals over the robust spread of the part in its photo: figured wood is not an outlier. */
const reweigh = (equations: Equations, channel: 0 | 1 | 2, estimate: Float64Array, weights: Float64Array): void => {
  const byPart = new Map<string, number[]>();
  equations.seen.forEach(({ part, photo }, at) => {
    if (part < 0) return;
    const key = `${part} ${photo}`;
    const list = byPart.get(key);
    if (list) list.push(at);
    else byPart.set(key, [at]);
  });
  for (const list of byPart.values()) {
    const residuals = list.map((at) => {
      const one = equations.seen[at]!;
      return one.log[channel] - predict(equations, one, estimate);
    });
    const spread = Math.max(robustSpread(residuals), of(model.cellNoise, channel));
    list.forEach((at, i) => {
      weights[at] = tukeyWeight(residuals[i]! / spread, model.robust.inner, model.robust.outer);
    });
  }
};
