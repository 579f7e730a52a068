import { leastSquares } from "../algebra/least-squares.ts";
import type { Vector3 } from "../algebra/matrix3.ts";
import type { PartKind } from "../leaf-parts.ts";
import type { PartSample, PhotoSample } from "../sample/photo-sample.ts";
import { model } from "./model-constants.ts";
import { lightOf } from "./observed-light.ts";
import type { Tones } from "./tone-estimate.ts";

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
export const estimateWood = (photos: readonly PhotoSample[], tones: Tones): WoodFigure => {
  const usual: Vector3 = [model.wood.lightness ** 2, model.wood.warmth ** 2, model.wood.tint ** 2];
  const sums = new Map<PartKind, { count: number; sum: [number, number, number] }>();
  for (const { camera, encoding, faces } of photos) {
    const light = lightOf(encoding, tones.get(camera)?.strength ?? 0);
    for (const { parts } of faces)
      for (const part of parts) {
        if (part.cells.length < leastCells) continue;
        const found = figureOf(part, light);
        if (!found) continue;
        const entry = sums.get(part.kind) ?? { count: 2, sum: [2 * usual[0], 2 * usual[1], 2 * usual[2]] };
        sums.set(part.kind, entry);
        entry.count++;
        found.forEach((variance, channel) => {
          entry.sum[channel]! += variance;
        });
      }
  }
  return (kind) => {
    const entry = sums.get(kind);
    if (!entry) return usual;
    const { count, sum } = entry;
    return [sum[0] / count, sum[1] / count, sum[2] / count];
  };
};

const figureOf = ({ cells, columns, grain }: PartSample, light: ReturnType<typeof lightOf>): Vector3 | null => {
  const logs = cells.map(([, red, green, blue, spread]) => light([red, green, blue], spread));
  const design = Float64Array.from(cells.flatMap(([, , , , , x, y]) => [1, x, y, x * x, x * y, y * y]));
  const greatest = ([0, 1, 2] as const).map((channel) => {
    const fit = leastSquares(
      design,
      6,
      logs.map((log) => log[channel]),
    );
    if (fit.kind !== "fitted") return null;
    return Math.max(
      ...blocks.map(([across, along]) => {
        const [wide, high] = grain === "v" ? [across, along] : [along, across];
        return blockVariance(fit.residuals, cells, columns, wide, high);
      }),
    );
  });
  const [lightness, redGreen, blueGreen] = greatest;
  return lightness == null || redGreen == null || blueGreen == null ? null : [lightness, redGreen, blueGreen];
};

/** Variance of the means of blocks so many cells wide and high (or the part's whole breadth or height), times the cells in a block. */
const blockVariance = (
  residuals: Float64Array,
  cells: PartSample["cells"],
  columns: number,
  wide: number,
  high: number,
): number => {
  const sums = new Map<number, { count: number; sum: number }>();
  let rows = 0;
  cells.forEach(([cell], i) => {
    const row = Math.floor(cell / columns);
    rows = Math.max(rows, row + 1);
    const key = Math.floor(row / high) * columns + Math.floor((cell % columns) / wide);
    const block = sums.get(key) ?? { count: 0, sum: 0 };
    sums.set(key, block);
    block.count++;
    block.sum += residuals[i]!;
  });
  const size = Math.min(wide, columns) * Math.min(high, rows);
  const full = [...sums.values()].filter(({ count }) => count >= 0.75 * size);
  return full.length < 2 ? 0 : full.reduce((sum, block) => sum + block.sum ** 2 / block.count, 0) / full.length;
};
