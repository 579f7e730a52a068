import { inverse3, type Matrix3 } from "../algebra/matrix3.ts";
import { nthSmallest } from "../algebra/nth-smallest.ts";
import { robustSpread } from "../algebra/robust.ts";
import { smooth } from "../grain/smooth.ts";
import type { LabPlanes } from "./grain-background.ts";

/** A way of looking at a part: how strange each cell is, 1 being what about one cell in a hundred reaches by the grain alone. */
export interface Look {
  readonly kind: "patch" | "line";
  readonly along: number;
  readonly across: number;
  readonly strange: Float32Array;
}

interface Cells {
  readonly along: number;
  readonly across: number;
  readonly usable: Uint8Array;
}

/**
 * Looks for patches about `side` cells wide: how far the mean over such a square is from what the part usually shows, in spreads of
 * the part itself (Mahalanobis distance): grain varies much in lightness and little in hue, so a small change of hue tells more.
 */
export const patchLook = ({ along, across, usable }: Cells, planes: LabPlanes, side: number): Look => {
  const [L, a, b] = planes.map((plane) => smooth({ along, across }, plane, side)) as [
    Float32Array,
    Float32Array,
    Float32Array,
  ];
  const [xx, xy, xz, , yy, yz, , , zz] = inverse3(usualCovariance([L, a, b], usable));
  const strange = new Float32Array(usable.length);
  for (let i = 0; i < strange.length; i++) {
    if (!usable[i]) continue;
    const x = L[i]!;
    const y = a[i]!;
    const z = b[i]!;
    strange[i] = Math.sqrt(xx * x * x + yy * y * y + zz * z * z + 2 * (xy * x * y + xz * x * z + yz * y * z));
  }
  const scale = 1 / usualPeak(strange, drawnCells(usable));
  for (let i = 0; i < strange.length; i++) strange[i]! *= scale;
  return { kind: "patch", along, across, strange };
};

/**
 * Looks for fine lines of about `length` cells: mean along a line of the lightness less that of its close surroundings, in each of
 * some directions, each direction scaled by what the part usually shows in it; so lines along the grain must stand out more.
 */
export const lineLook = ({ along, across, usable }: Cells, lightness: Float32Array, length: number): Look => {
  const around = smooth({ along, across }, lightness, 7);
  const fine = new Float32Array(lightness.length);
  for (let i = 0; i < fine.length; i++) if (usable[i]) fine[i] = lightness[i]! - around[i]!;
  const drawn = drawnCells(usable);
  const strange = strangestLines(fine, along, slopes.across, length, drawn);
  const turned = turn(fine, along);
  const lengthwise = turn(
    strangestLines(turned, across, slopes.along, length, turnedCells(drawn, along, across)),
    across,
  );
  for (let i = 0; i < strange.length; i++) if (lengthwise[i]! > strange[i]!) strange[i] = lengthwise[i]!;
  return { kind: "line", along, across, strange };
};

/** Slopes of the lines to the grain, then to the direction across it. */
const slopes = { along: [-1, -0.6, -0.3, 0, 0.3, 0.6, 1], across: [-0.6, -0.3, 0, 0.3, 0.6] } as const;

/** Side of the squares a plane is turned in, cells: neither rows read nor rows written fall out of the nearest cache. */
const square = 32;

/** Rows of `width` cells to columns. */
const turn = (plane: Float32Array, width: number): Float32Array => {
  const height = plane.length / width;
  const out = new Float32Array(plane.length);
  for (let top = 0; top < height; top += square)
    for (let left = 0; left < width; left += square)
      for (let column = left; column < Math.min(width, left + square); column++)
        for (let row = top; row < Math.min(height, top + square); row++)
          out[column * height + row] = plane[row * width + column]!;
  return out;
};

/** The same cells once rows of `along` have become columns. */
const turnedCells = (cells: Int32Array, along: number, across: number): Int32Array =>
  cells.map((cell) => (cell % along) * across + Math.floor(cell / along));

/** The most strange of the lines through each cell that run from row to row, a slope of so many cells sideways a row. */
const strangestLines = (
  plane: Float32Array,
  width: number,
  some: readonly number[],
  length: number,
  drawn: Int32Array,
): Float32Array => {
  const most = new Float32Array(plane.length);
  const one = new Float32Array(plane.length);
  for (const slope of some) {
    meanAlongLines(plane, width, slope, length, one);
    const scale = 1 / usualPeak(one, drawn);
    for (let i = 0; i < most.length; i++) {
      const strange = one[i]! * scale;
      if (strange > most[i]!) most[i] = strange;
    }
  }
  return most;
};

/**
 * Into `out`: absolute mean of the plane over `length` rows of the line of that slope through each cell, 0 where it leaves the plane.
 * All lines are followed side by side, a row at a time, so that memory is read in its order.
 */
const meanAlongLines = (plane: Float32Array, width: number, slope: number, length: number, out: Float32Array): void => {
  out.fill(0);
  const height = plane.length / width;
  const shift = Int32Array.from({ length: height }, (_, row) => Math.round(slope * row));
  // A line is named by where it crosses the first row, counted from the leftmost that reaches the plane at all.
  const leftmost = Math.min(0, -shift[height - 1]!);
  const sums = new Float64Array(width + Math.abs(shift[height - 1]!));
  const share = 1 / length;
  for (let row = 0; row < height; row++) {
    const first = row - length + 1;
    const enters = row * width + shift[row]! + leftmost;
    const begin = -shift[row]! - leftmost;
    const end = begin + width;
    // Lines that are in the plane from the first of these rows to this one; none until there are enough rows.
    const from = first < 0 ? end : Math.min(end, Math.max(begin, -shift[first]! - leftmost));
    const to = first < 0 ? end : Math.max(from, Math.min(end, width - shift[first]! - leftmost));
    for (let line = begin; line < from; line++) sums[line]! += plane[enters + line]!;
    for (let line = to; line < end; line++) sums[line]! += plane[enters + line]!;
    if (first < 0) continue;
    const middle = row - (length >> 1);
    const leaves = first * width + shift[first]! + leftmost;
    const at = middle * width + shift[middle]! + leftmost;
    for (let line = from; line < to; line++) {
      const sum = sums[line]! + plane[enters + line]!;
      out[at + line] = Math.abs(sum) * share;
      sums[line] = sum - plane[leaves + line]!;
    }
  }
};

/** Usable cells spread over a part; of 20,000 what one in a hundred reaches can be told. */
const drawnCells = (usable: Uint8Array, count = 20_000): Int32Array => {
  const stride = Math.max(1, Math.floor(usable.length / count)) | 1;
  const drawn: number[] = [];
  for (let i = 0; i < usable.length; i += stride) if (usable[i]) drawn.push(i);
  return Int32Array.from(drawn);
};

/** What one of the drawn cells in a hundred reaches, or 2.5 times what one in ten does where marks fill more than that. */
const usualPeak = (strange: Float32Array, drawn: Int32Array): number => {
  const values = new Float64Array(drawn.length);
  for (let i = 0; i < drawn.length; i++) values[i] = strange[drawn[i]!]!;
  const at = (share: number): number =>
    values.length > 0 ? nthSmallest(values, Math.floor(share * (values.length - 1))) : 1;
  return Math.min(at(0.99), 2.5 * at(0.9)) || 1;
};

/** Spread, as L*, a*, b*, that no photo is better than: rounding of the code values and of JPEG. */
const leastSpread = 0.05;

const usualCovariance = (planes: LabPlanes, usable: Uint8Array): Matrix3 => {
  const drawn = drawnCells(usable, 4000);
  const values = planes.map((plane) => Float64Array.from(drawn, (cell) => plane[cell]!)) as [Values, Values, Values];
  const [one, other, third] = values.map((some) => 3.5 * robustSpread(some, 0) + leastSpread) as [
    number,
    number,
    number,
  ];
  const [L, a, b] = values;
  const kept = L.map((value, i) =>
    Math.abs(value) <= one && Math.abs(a[i]!) <= other && Math.abs(b[i]!) <= third ? 1 : 0,
  );
  const count = Math.max(
    1,
    kept.reduce((sum, flag) => sum + flag, 0),
  );
  const cov = (p: 0 | 1 | 2, q: 0 | 1 | 2): number => {
    let sum = 0;
    for (let i = 0; i < kept.length; i++) sum += kept[i]! * values[p][i]! * values[q][i]!;
    return sum / count + (p === q ? leastSpread ** 2 : 0);
  };
  return [cov(0, 0), cov(0, 1), cov(0, 2), cov(0, 1), cov(1, 1), cov(1, 2), cov(0, 2), cov(1, 2), cov(2, 2)];
};

type Values = Float64Array<ArrayBuffer>;
