import { apply3, type Matrix3, type Vector3 } from "../algebra/matrix3.ts";
import { deltaE00 } from "../colour/delta-e00.ts";
import { type Lab65, xyzToLab65 } from "../colour/lab.ts";
import type { FaceGrid } from "../rectify/resample.ts";

export interface BoxMm {
  readonly x: number;
  readonly y: number;
  readonly w: number;
  readonly h: number;
}

/**
 * How a marked place differs from the timber round it. `told-apart`: the cells inside the box that the timber round it hardly ever
 * shows, the ΔE00 of the lighter or the darker of them to it, whichever is more, and the box and area (mm, mm²) they take.
 * `not-told-apart`: hardly more such cells inside than outside; the ΔE00 is of the whole box then.
 */
export type MarkContrast =
  | { readonly kind: "told-apart"; readonly contrastDE00: number; readonly box: BoxMm; readonly areaMm2: number }
  | { readonly kind: "not-told-apart"; readonly contrastDE00: number }
  | { readonly kind: "too-little-seen" };

/** One cell in a hundred of the timber round the place is farther from its mean than this share is. */
const usualShare = 0.99;

/**
 * Measures a place a person marked, on a grid of cells of 1 mm or less. `toXyz` takes the photo's linear light to XYZ. The timber
 * round it is a rim as wide as half the box, at least 8 mm, but never beyond `within`: the part it lies in, mm, its joints left out.
 */
export const markContrast = (grid: FaceGrid, box: BoxMm, within: BoxMm, toXyz: Matrix3): MarkContrast => {
  const rimMm = Math.max(8, Math.max(box.w, box.h) / 2);
  const inside = cellsIn(grid, overlapOf(box, within));
  const taken = new Set(inside);
  const wide = { x: box.x - rimMm, y: box.y - rimMm, w: box.w + 2 * rimMm, h: box.h + 2 * rimMm };
  const rim = cellsIn(grid, overlapOf(wide, within)).filter((cell) => !taken.has(cell));
  if (inside.length < 4 || rim.length < 50) return { kind: "too-little-seen" };
  const timber = meanLab(grid, rim, toXyz);
  const contrast = (cells: readonly number[]): number => deltaE00(timber, meanLab(grid, cells, toXyz));
  const usual = Float64Array.from(rim, (cell) => contrast([cell])).sort()[Math.floor(usualShare * (rim.length - 1))]!;
  const marked = inside.filter((cell) => contrast([cell]) > usual);
  if (marked.length < 3 * (1 - usualShare) * inside.length)
    return { kind: "not-told-apart", contrastDE00: contrast(inside) };
  const lighter = marked.filter((cell) => meanLab(grid, [cell], toXyz)[0] > timber[0]);
  const darker = marked.filter((cell) => meanLab(grid, [cell], toXyz)[0] <= timber[0]);
  const sides = [lighter, darker].filter(({ length }) => length >= marked.length / 4);
  return {
    kind: "told-apart",
    contrastDE00: Math.max(...sides.map(contrast)),
    box: boxAround(grid, marked),
    areaMm2: marked.length * grid.mmPerCell ** 2,
  };
};

const overlapOf = (one: BoxMm, other: BoxMm): BoxMm => {
  const x = Math.max(one.x, other.x);
  const y = Math.max(one.y, other.y);
  return { x, y, w: Math.min(one.x + one.w, other.x + other.w) - x, h: Math.min(one.y + one.h, other.y + other.h) - y };
};

/** Usable cells whose centre lies in the box. */
const cellsIn = ({ usable, width, height, mmPerCell }: FaceGrid, { x, y, w, h }: BoxMm): number[] => {
  const cells: number[] = [];
  const first = (mm: number) => Math.max(0, Math.ceil(mm / mmPerCell - 0.5));
  for (let row = first(y); row < Math.min(height, first(y + h)); row++)
    for (let column = first(x); column < Math.min(width, first(x + w)); column++)
      if (usable[row * width + column]) cells.push(row * width + column);
  return cells;
};

const meanLab = ({ data }: FaceGrid, cells: readonly number[], toXyz: Matrix3): Lab65 => {
  const mean = (channel: number): number =>
    cells.reduce((sum, cell) => sum + data[3 * cell + channel]!, 0) / cells.length;
  const rgb: Vector3 = [mean(0), mean(1), mean(2)];
  return xyzToLab65(apply3(toXyz, rgb));
};

const boxAround = ({ width, mmPerCell }: FaceGrid, cells: readonly number[]): BoxMm => {
  const columns = cells.map((cell) => cell % width);
  const rows = cells.map((cell) => Math.floor(cell / width));
  const least = (values: readonly number[]) => values.reduce((a, b) => Math.min(a, b));
  const most = (values: readonly number[]) => values.reduce((a, b) => Math.max(a, b));
  const [x, y] = [least(columns), least(rows)];
  return {
    x: x * mmPerCell,
    y: y * mmPerCell,
    w: (most(columns) + 1 - x) * mmPerCell,
    h: (most(rows) + 1 - y) * mmPerCell,
  };
};
