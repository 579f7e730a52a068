import type { Vector3 } from "../algebra/matrix3.ts";
import type { PartKind } from "../leaf-parts.ts";
import { placeTerms } from "./light-field.ts";
import { model } from "./model-constants.ts";
import type { ObservedCells, ObservedPart } from "./observed-cells.ts";
import { smoothLightOff } from "./smooth-light.ts";

/**
 * How much the wood of each kind of part varies, as the variance a cell would need if cells were independent: figure runs
 * on from cell to cell, so the mean of a part is less sure than its cells. Lightness and two colours.
 */
export type WoodFigure = (kind: PartKind) => Vector3;

/**
 * Blocks of so many cells across and along the grain: variance of their means, times their cells, grows until a block holds
 * whole figures. Veneer is streaked from end to end, so blocks run the whole length too.
 */
const wholeLength = 1000;
const blocks = [
  [1, 1],
  [2, 2],
  [4, 4],
  [8, 8],
  [1, wholeLength],
  [2, wholeLength],
] as const;

/** Cells a part must have before a smooth light can be taken off it and figure remains. */
const leastCells = 16;

/**
 * Told from the photos themselves: a smooth light (a quadratic over the photo) is taken off each part, and the greatest
 * block variance is kept. The mean over the parts of a kind, drawn to the usual figure as if by two more parts.
 */
export const estimateWood = (observed: ObservedCells): WoodFigure => {
  const usual: Vector3 = [model.wood.lightness ** 2, model.wood.warmth ** 2, model.wood.tint ** 2];
  const sums = new Map<PartKind, { count: number; sum: [number, number, number] }>();
  for (const part of observed.parts) {
    if (part.to - part.from < leastCells) continue;
    const found = figureOf(part, observed);
    if (!found) continue;
    const { kind } = part.sample;
    const entry = sums.get(kind) ?? { count: 2, sum: [2 * usual[0], 2 * usual[1], 2 * usual[2]] };
    sums.set(kind, entry);
    entry.count++;
    found.forEach((variance, channel) => {
      entry.sum[channel]! += variance;
    });
  }
  return (kind) => {
    const entry = sums.get(kind);
    if (!entry) return usual;
    const { count, sum } = entry;
    return [sum[0] / count, sum[1] / count, sum[2] / count];
  };
};

const figureOf = ({ from, to, sample }: ObservedPart, { pieces, terms, logs }: ObservedCells): Vector3 | null => {
  const off = smoothLightOff(terms.subarray(placeTerms * from, placeTerms * to));
  if (!off) return null;
  const left = logs.map((column) => off(column.subarray(from, to)));
  const greatest: [number, number, number] = [0, 0, 0];
  for (const [across, along] of blocks) {
    const [wide, high] = sample.grain === "v" ? [across, along] : [along, across];
    const inBlocks = blocksOf(pieces.subarray(from, to), sample.columns, wide, high);
    left.forEach((values, channel) => {
      greatest[channel] = Math.max(greatest[channel]!, blockVariance(values, inBlocks));
    });
  }
  return greatest;
};

interface Blocks {
  /** The block of each cell. */
  readonly blockOf: Int32Array;
  readonly counts: Int32Array;
  /** A block counts from so many cells: three quarters of a full one. */
  readonly least: number;
}

/** Blocks so many cells wide and high (or the part's whole breadth or height). */
const blocksOf = (pieces: Int32Array, columns: number, wide: number, high: number): Blocks => {
  const rows = 1 + Math.floor(pieces.reduce((most, piece) => Math.max(most, piece), 0) / columns);
  const across = Math.ceil(columns / wide);
  const counts = new Int32Array(across * Math.ceil(rows / high));
  const blockOf = pieces.map((piece) => {
    const row = Math.floor(piece / columns);
    return Math.floor(row / high) * across + Math.floor((piece - row * columns) / wide);
  });
  for (let i = 0; i < blockOf.length; i++) counts[blockOf[i]!]!++;
  return { blockOf, counts, least: 0.75 * Math.min(wide, columns) * Math.min(high, rows) };
};

/** Variance of the means of blocks, times the cells in a block. */
const blockVariance = (values: Float64Array, { blockOf, counts, least }: Blocks): number => {
  const sums = new Float64Array(counts.length);
  for (let i = 0; i < values.length; i++) sums[blockOf[i]!]! += values[i]!;
  let [total, full] = [0, 0];
  for (let block = 0; block < counts.length; block++) {
    if (counts[block] === 0 || counts[block]! < least) continue;
    total += sums[block]! ** 2 / counts[block]!;
    full++;
  }
  return full < 2 ? 0 : total / full;
};
