import type { FaceGrid } from "../rectify/resample.ts";
import { round, type Triple } from "./photo-sample.ts";

export interface LightIn {
  readonly rgb: Triple;
  readonly spread: number;
  /** Cells of the grid that counted, of how many lay inside. */
  readonly counted: number;
  readonly inside: number;
}

/**
 * Mean linear light of the grid cells whose centres lie in a rectangle (mm), those that `usable` leaves out not counted,
 * nor those whose light is more than `farthest` mean lights away from the mean (a glint, a fly): wood itself is never so far.
 * Null where nothing counted.
 */
export const lightIn = (
  grid: FaceGrid,
  usable: Uint8Array,
  left: number,
  top: number,
  right: number,
  bottom: number,
  farthest = Number.POSITIVE_INFINITY,
): LightIn | null => {
  const first = sumUp(grid, usable, left, top, right, bottom, 0, Number.POSITIVE_INFINITY);
  if (first.counted === 0) return null;
  const green = first.sums[1]! / first.counted;
  const { sums, squares, counted } = Number.isFinite(farthest)
    ? sumUp(grid, usable, left, top, right, bottom, green - farthest * green, green + farthest * green)
    : first;
  if (counted === 0) return null;
  const mean = sums.map((sum) => round(sum / counted, 6));
  const variance = Math.max(0, squares / counted - (sums[1]! / counted) ** 2);
  return {
    rgb: [mean[0]!, mean[1]!, mean[2]!],
    spread: round(Math.sqrt(variance) / Math.max(green, 1e-6), 3),
    counted,
    inside: first.inside,
  };
};

const sumUp = (
  { data, width, height, mmPerCell }: FaceGrid,
  usable: Uint8Array,
  left: number,
  top: number,
  right: number,
  bottom: number,
  least: number,
  most: number,
) => {
  const x0 = Math.max(0, Math.ceil(left / mmPerCell - 0.5));
  const x1 = Math.min(width, Math.ceil(right / mmPerCell - 0.5));
  const y0 = Math.max(0, Math.ceil(top / mmPerCell - 0.5));
  const y1 = Math.min(height, Math.ceil(bottom / mmPerCell - 0.5));
  let red = 0;
  let green = 0;
  let blue = 0;
  let squares = 0;
  let counted = 0;
  for (let y = y0; y < y1; y++) {
    for (let x = x0; x < x1; x++) {
      const i = y * width + x;
      const g = data[3 * i + 1]!;
      if (!usable[i] || g < least || g > most) continue;
      red += data[3 * i]!;
      green += g;
      blue += data[3 * i + 2]!;
      squares += g * g;
      counted++;
    }
  }
  return { sums: [red, green, blue], squares, counted, inside: Math.max(0, x1 - x0) * Math.max(0, y1 - y0) };
};
