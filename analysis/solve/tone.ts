import type { Vector3 } from "../algebra/matrix3.ts";
import { decodeCurve, encodeCurve } from "../colour/encoding.ts";

/**
 * Takes back a phone's tone curve. Strength 0 leaves light as the standard curve says; above 0 the phone had pressed
 * shadows down and lights up (an S) by about that share: code v was v - strength v (1 - v)(1 - 2v) before.
 */
export const undoTone = (linear: number, strength: number): number => {
  const v = encodeCurve(Math.min(1, Math.max(0, linear)));
  return decodeCurve(v + strength * v * (1 - v) * (1 - 2 * v));
};

/**
 * Mean light of a cell after its tone is undone, from mean and relative spread before: two points at one standard
 * deviation stand for all, which is exact to the second order.
 */
export const undoToneOfMean = (mean: number, spread: number, strength: number): number =>
  strength === 0 ? mean : (undoTone(mean * (1 - spread), strength) + undoTone(mean * (1 + spread), strength)) / 2;

/** Steps of the table below: with so many it is off by less than 4e-5 of the light, a hundredth of the noise of a cell. */
const tableSteps = 4096;

/**
 * `undoToneOfMean` of one strength for hundreds of thousands of cells: from a table over the square root of light, in which the
 * curve is smooth down to black.
 */
export const toneUndone = (strength: number): ((mean: number, spread: number) => number) => {
  if (strength === 0) return (mean) => mean;
  const table = Float64Array.from({ length: tableSteps + 2 }, (_, i) => undoTone((i / tableSteps) ** 2, strength));
  const undo = (light: number) => {
    const at = tableSteps * Math.sqrt(Math.min(1, Math.max(0, light)));
    const below = Math.floor(at);
    return table[below]! + (at - below) * (table[below + 1]! - table[below]!);
  };
  return (mean, spread) => (undo(mean * (1 - spread)) + undo(mean * (1 + spread))) / 2;
};

export const undoToneOfRgb = ([r, g, b]: Vector3, spread: number, strength: number): Vector3 => [
  undoToneOfMean(r, spread, strength),
  undoToneOfMean(g, spread, strength),
  undoToneOfMean(b, spread, strength),
];

/** How much of the contrast of fine figure at this light remains when the tone is undone: slope of log light on log light. */
export const figureGain = (linear: number, strength: number): number => {
  const step = 0.02;
  return (
    Math.log(undoTone(linear * (1 + step), strength) / undoTone(linear * (1 - step), strength)) /
    Math.log((1 + step) / (1 - step))
  );
};
