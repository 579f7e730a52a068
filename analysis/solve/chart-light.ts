import { leastSquares } from "../algebra/least-squares.ts";
import type { Vector3 } from "../algebra/matrix3.ts";
import { model } from "./model-constants.ts";

/** A grey of known colour in a photo: where, and the logarithm of its light there on each channel of the camera. */
export interface SeenGrey {
  readonly at: readonly [right: number, down: number];
  readonly light: Vector3;
}

/** A factor on each channel of the camera at a place in the photo. */
export type LightAt = (at: readonly [right: number, down: number]) => Vector3;

/** Two rows that hold the slopes near nil. */
const diagonalOf = (right: number, down: number): readonly number[] => [0, right, 0, 0, 0, down];

/** The light about a reference from its greys alone: level and slopes, these within their usual spread. Null without greys. */
export const lightFromGreys = (greys: readonly SeenGrey[]): LightAt | null => {
  if (greys.length === 0) return null;
  const mean = (k: 0 | 1) => greys.reduce((sum, { at }) => sum + at[k], 0) / greys.length;
  const [x0, y0] = [mean(0), mean(1)];
  const [right, down] = model.field.lightness;
  const design = Float64Array.from([
    ...greys.flatMap(({ at: [x, y] }) => [1, x - x0, y - y0].map((value) => value / model.toneGreyNoise)),
    ...diagonalOf(1 / right, 1 / down),
  ]);
  const fits = ([0, 1, 2] as const).map((k) => {
    const fit = leastSquares(design, 3, [...greys.map(({ light }) => light[k] / model.toneGreyNoise), 0, 0]);
    return fit.kind === "fitted" ? fit.estimate : Float64Array.of(greys[0]!.light[k], 0, 0);
  });
  return ([x, y]) => {
    const [red, green, blue] = fits.map((fit) => Math.exp(fit[0]! + fit[1]! * (x - x0) + fit[2]! * (y - y0)));
    return [red!, green!, blue!];
  };
};
