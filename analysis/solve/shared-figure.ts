import { leastSquares } from "../algebra/least-squares.ts";
import type { CellSample, PhotoSample } from "../sample/photo-sample.ts";
import { model } from "./model-constants.ts";

/** A part whose figure two photos show. */
export interface FigurePair {
  readonly cameras: readonly [string, string];
  /** Mean green light of the part in each, as the photo has it. */
  readonly lights: readonly [number, number];
  /** Logarithm of the contrast of its figure in the first over that in the second. */
  readonly logRatio: number;
}

/** Every part seen in two photos, against the photo that showed it before, where both clearly show the same figure. */
export const sharedFigure = (photos: readonly PhotoSample[]): FigurePair[] => {
  const last = new Map<string, { camera: string; cells: readonly CellSample[] }>();
  const pairs: FigurePair[] = [];
  for (const { camera, faces } of photos)
    for (const { leaf, face, parts } of faces)
      for (const { name, cells } of parts) {
        const key = `${leaf}/${face}/${name}`;
        const before = last.get(key);
        const pair = before ? compareFigure(before, { camera, cells }) : null;
        if (pair) pairs.push(pair);
        last.set(key, { camera, cells });
      }
  return pairs;
};

/** Fewer cells than this show no figure once a curved light is taken off. */
const leastCells = 20;

const compareFigure = (
  one: { camera: string; cells: readonly CellSample[] },
  other: { camera: string; cells: readonly CellSample[] },
): FigurePair | null => {
  const byCell = new Map(other.cells.map((cell) => [cell[0], cell]));
  const common = one.cells.flatMap((cell) => {
    const same = byCell.get(cell[0]);
    return same ? [[cell, same] as const] : [];
  });
  if (common.length < leastCells) return null;
  const first = figure(common.map(([cell]) => cell));
  const second = figure(common.map(([, cell]) => cell));
  if (!first || !second) return null;
  const dot = (x: Float64Array, y: Float64Array) => x.reduce((sum, value, i) => sum + value * y[i]!, 0);
  const square = [dot(first.texture, first.texture), dot(second.texture, second.texture)] as const;
  if (dot(first.texture, second.texture) < model.sameFigure * Math.sqrt(square[0] * square[1])) return null;
  return {
    cameras: [one.camera, other.camera],
    lights: [first.light, second.light],
    logRatio: Math.log(square[0] / square[1]) / 2,
  };
};

/** Log green light of the cells with a smooth light (a quadratic over the photo) taken off. */
const figure = (cells: readonly CellSample[]) => {
  const logs = cells.map(([, , green]) => Math.log(Math.max(green, 1e-5)));
  const design = Float64Array.from(cells.flatMap(([, , , , , x, y]) => [1, x, y, x * x, x * y, y * y]));
  const fit = leastSquares(design, 6, logs);
  if (fit.kind !== "fitted") return null;
  return { texture: fit.residuals, light: Math.exp(logs.reduce((sum, v) => sum + v, 0) / logs.length) };
};
