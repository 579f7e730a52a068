import type { CellSample, PhotoSample } from "../sample/photo-sample.ts";
import { placeTerms, writeTerms } from "./light-field.ts";
import { model } from "./model-constants.ts";
import { smoothLightOff } from "./smooth-light.ts";

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
  const there: CellSample[] = [];
  for (const cell of other.cells) there[cell[0]] = cell;
  const common = one.cells.filter(([piece]) => there[piece] !== undefined);
  if (common.length < leastCells) return null;
  const first = figure(common);
  const second = figure(common.map(([piece]) => there[piece]!));
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

/** Log green light of the cells with a smooth light taken off. */
const figure = (cells: readonly CellSample[]) => {
  const logs = new Float64Array(cells.length);
  const terms = new Float64Array(placeTerms * cells.length);
  cells.forEach(([, , green, , , x, y], i) => {
    logs[i] = Math.log(Math.max(green, 1e-5));
    writeTerms(terms, placeTerms * i, x, y);
  });
  const off = smoothLightOff(terms);
  if (!off) return null;
  return { texture: off(logs), light: Math.exp(logs.reduce((sum, v) => sum + v, 0) / logs.length) };
};
