import { robustSpread, tukeyWeight } from "../algebra/robust.ts";
import { emptyMatrix, entryAt, factorSparse, type SparseLower, solveSparse } from "../algebra/sparse-cholesky.ts";
import { addPiece, layMoments, type Moments, noMoments, type Weighing } from "./clump-moments.ts";
import { type Clump, type Equations, piecesOf, type View } from "./equations.ts";
import { placeTerms } from "./light-field.ts";
import { model, type Spreads } from "./model-constants.ts";
import { type Order, unknownsOf } from "./order-unknowns.ts";
import { lightOn } from "./photo-light.ts";

/** One of the three channels solved. */
export interface ChannelSolution {
  readonly estimate: Float64Array;
  readonly factor: SparseLower;
  readonly place: Int32Array;
  /** Weight of each cell, 0..1, by the number of its view. */
  readonly weights: readonly Float64Array[];
  /** Logarithm of how likely all that was seen is under the model, up to a constant of the seen alone. */
  readonly evidence: number;
}

/** A clump in one channel: how its cells are weighed, what they come to, and where its unknowns stand in the matrix. */
interface Laid {
  readonly clump: Clump;
  readonly weighing: Weighing;
  readonly moments: Moments;
  readonly places: readonly number[];
  readonly entries: Int32Array;
}

/**
 * Estimate, covariance factor and weights of one channel: generalised least squares with proper priors, so that the
 * matrix has full rank whatever is missing, and rounds of weights, until none changes.
 */
export const solveChannel = (equations: Equations, order: Order, channel: 0 | 1 | 2): ChannelSolution => {
  const clumps = [...equations.parts, ...equations.patches].map((clump) => lay(clump, equations, order, channel));
  const weights: Float64Array[] = Array.from({ length: equations.views });
  for (const { clump, weighing } of clumps)
    for (const [i, { number }] of clump.views.entries()) weights[number] = weighing.weights[i]!;
  let solution = solveOnce(equations, order, channel, clumps);
  for (let round = 1; round < model.robust.rounds; round++) {
    const changed = clumps.filter((one, i) => i < equations.parts.length && reweigh(one, equations, solution.estimate));
    if (changed.length === 0) break;
    solution = solveOnce(equations, order, channel, clumps);
  }
  return { ...solution, place: order.place, weights };
};

const names = ["lightness", "warmth", "tint"] as const;

const of = (spread: Spreads, channel: 0 | 1 | 2): number => spread[names[channel]];

const lay = (clump: Clump, { light }: Equations, { place, entries }: Order, channel: 0 | 1 | 2): Laid => {
  const weights = clump.views.map(({ shares }) => new Float64Array(shares.length).fill(1));
  const weighing = { channel, weights, noise: of(clump.noise, channel) ** 2, wood: clump.wood[channel] };
  const moments = noMoments(clump);
  const pieces = piecesOf(clump);
  for (let piece = 0; piece < pieces; piece++) addPiece(moments, clump, piece, weighing, 1);
  const places = clump.views.flatMap((view) => unknownsOf(view, light).map((unknown) => place[unknown]!));
  return { clump, weighing, moments, places, entries: entries.get(clump)! };
};

const solveOnce = (
  { unknowns, ties }: Equations,
  { place, pattern }: Order,
  channel: 0 | 1 | 2,
  clumps: readonly Laid[],
) => {
  const matrix = emptyMatrix(pattern);
  const right = new Float64Array(unknowns);
  const { values } = matrix;
  let squares = 0;
  let logVariance = 0;
  for (const { one, other, mean, spread } of ties) {
    const weight = 1 / of(spread, channel) ** 2;
    const i = place[one]!;
    values[entryAt(pattern, i, i)]! += weight;
    right[i]! += weight * mean[channel];
    if (other !== null) {
      const j = place[other]!;
      values[entryAt(pattern, j, j)]! += weight;
      values[entryAt(pattern, i, j)]! -= weight;
      right[j]! -= weight * mean[channel];
    }
    squares += weight * mean[channel] ** 2;
    logVariance -= Math.log(weight);
  }
  for (const { clump, places, entries, moments } of clumps) {
    layMoments(clump, moments, entries, places, values, right);
    squares += moments.squares;
    logVariance += moments.logVariance;
  }
  const factored = factorSparse(matrix);
  if (factored.kind !== "factored") throw new Error(`no prior holds the unknown in row ${factored.row}`);
  const ordered = solveSparse(factored.factor, right.slice());
  const explained = right.reduce((sum, value, i) => sum + value * ordered[i]!, 0);
  return {
    estimate: Float64Array.from(place, (at) => ordered[at]!),
    factor: factored.factor,
    evidence: -0.5 * (squares - explained + logVariance + factored.logDeterminant),
  };
};

/**
 * Weights from residuals over the robust spread of the part in its photo: figured wood is not an outlier. What the cells come to is
 * summed anew only for the pieces whose weight changes; whether any did.
 */
const reweigh = ({ clump, weighing, moments }: Laid, equations: Equations, estimate: Float64Array): boolean => {
  const { views, cellOf } = clump;
  const weights = views.map((view) => weightsOf(view, equations, weighing.channel, estimate));
  const after = { ...weighing, weights };
  let changed = false;
  const pieces = piecesOf(clump);
  for (let piece = 0; piece < pieces; piece++) {
    const differs = weights.some((own, view) => {
      const cell = cellOf[piece * views.length + view]!;
      return cell >= 0 && own[cell] !== weighing.weights[view]![cell];
    });
    if (!differs) continue;
    addPiece(moments, clump, piece, weighing, -1);
    addPiece(moments, clump, piece, after, 1);
    changed = true;
  }
  weights.forEach((own, view) => {
    weighing.weights[view]!.set(own);
  });
  return changed;
};

const weightsOf = (view: View, equations: Equations, channel: 0 | 1 | 2, estimate: Float64Array): Float64Array => {
  const { terms, colour } = view;
  const light = lightOn(view, equations, estimate);
  const values = view.logs[channel].slice();
  for (let cell = 0; cell < values.length; cell++) {
    let expected = estimate[colour]!;
    for (let k = 0; k < placeTerms; k++) expected += light[k]! * terms[placeTerms * cell + k]!;
    values[cell]! -= expected;
  }
  const spread = Math.max(robustSpread(values), of(model.cellNoise, channel));
  const { inner, outer } = model.robust;
  for (let cell = 0; cell < values.length; cell++) values[cell] = tukeyWeight(values[cell]! / spread, inner, outer);
  return values;
};
