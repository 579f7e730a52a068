import { inverse3, type Matrix3 } from "../algebra/matrix3.ts";
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
    const [x, y, z] = [L[i]!, a[i]!, b[i]!];
    strange[i] = Math.sqrt(xx * x * x + yy * y * y + zz * z * z + 2 * (xy * x * y + xz * x * z + yz * y * z));
  }
  const usual = usualPeak(strange, usable);
  for (let i = 0; i < strange.length; i++) strange[i]! /= usual;
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
  const lengthwise = strangestLines({ along, across, usable }, fine, slopes.along, length);
  const crosswise = strangestLines(
    { along: across, across: along, usable: turn({ along, across }, usable, new Uint8Array(usable.length)) },
    turn({ along, across }, fine, new Float32Array(fine.length)),
    slopes.across,
    length,
  );
  const strange = turn({ along: across, across: along }, crosswise, new Float32Array(crosswise.length));
  for (let i = 0; i < strange.length; i++) if (lengthwise[i]! > strange[i]!) strange[i] = lengthwise[i]!;
  return { kind: "line", along, across, strange };
};

/** Slopes of the lines to the grain, then to the direction across it. */
const slopes = { along: [-1, -0.6, -0.3, 0, 0.3, 0.6, 1], across: [-0.6, -0.3, 0, 0.3, 0.6] } as const;

/** Rows to columns. */
const turn = <Plane extends Float32Array | Uint8Array>(
  { along, across }: Omit<Cells, "usable">,
  plane: Plane,
  out: Plane,
): Plane => {
  for (let row = 0; row < across; row++)
    for (let i = 0; i < along; i++) out[i * across + row] = plane[row * along + i]!;
  return out;
};

/** The most strange of the lines of these slopes through each cell. */
const strangestLines = (cells: Cells, plane: Float32Array, some: readonly number[], length: number): Float32Array => {
  const most = new Float32Array(plane.length);
  const one = new Float32Array(plane.length);
  for (const slope of some) {
    meanAlongLines(cells, plane, slope, length, one);
    const usual = usualPeak(one, cells.usable);
    for (let i = 0; i < most.length; i++) {
      const strange = one[i]! / usual;
      if (strange > most[i]!) most[i] = strange;
    }
  }
  return most;
};

/** Into `out`: absolute mean of the plane over `length` cells of the line of that slope through each cell, 0 where it leaves the plane. */
const meanAlongLines = (
  { along, across }: Cells,
  plane: Float32Array,
  slope: number,
  length: number,
  out: Float32Array,
): void => {
  out.fill(0);
  const half = length >> 1;
  const shift = Int32Array.from({ length: along }, (_, i) => Math.round(slope * i));
  const at = shift.map((rows, i) => rows * along + i);
  const last = shift[along - 1]!;
  for (let base = Math.min(0, -last); base < across - Math.min(0, last); base++) {
    let from = 0;
    while (from < along && (base + shift[from]! < 0 || base + shift[from]! >= across)) from++;
    let to = from;
    while (to < along && base + shift[to]! >= 0 && base + shift[to]! < across) to++;
    if (to - from < length) continue;
    const start = base * along;
    let sum = 0;
    for (let i = from; i < from + length; i++) sum += plane[start + at[i]!]!;
    for (let i = from + length; i < to; i++) {
      out[start + at[i - 1 - half]!] = Math.abs(sum) / length;
      sum += plane[start + at[i]!]! - plane[start + at[i - length]!]!;
    }
    out[start + at[to - 1 - half]!] = Math.abs(sum) / length;
  }
};

/** What one usable cell in a hundred reaches, or 2.5 times what one in ten does where marks fill more than that. */
const usualPeak = (strange: Float32Array, usable: Uint8Array): number => {
  const stride = Math.max(1, Math.floor(strange.length / 20_000)) | 1;
  const drawn: number[] = [];
  for (let i = 0; i < strange.length; i += stride) if (usable[i]) drawn.push(strange[i]!);
  const sorted = Float64Array.from(drawn).sort();
  const at = (share: number): number => sorted[Math.floor(share * (sorted.length - 1))] ?? 1;
  return Math.min(at(0.99), 2.5 * at(0.9)) || 1;
};

/** Spread, as L*, a*, b*, that no photo is better than: rounding of the code values and of JPEG. */
const leastSpread = 0.05;

const usualCovariance = (planes: LabPlanes, usable: Uint8Array): Matrix3 => {
  const stride = Math.max(1, Math.floor(usable.length / 4000)) | 1;
  const drawn: (readonly [number, number, number])[] = [];
  for (let i = 0; i < usable.length; i += stride)
    if (usable[i]) drawn.push([planes[0][i]!, planes[1][i]!, planes[2][i]!]);
  const reach = ([0, 1, 2] as const).map(
    (c) =>
      3.5 *
        robustSpread(
          drawn.map((lab) => lab[c]),
          0,
        ) +
      leastSpread,
  );
  const kept = drawn.filter((lab) => lab.every((value, c) => Math.abs(value) <= reach[c]!));
  const cov = (p: 0 | 1 | 2, q: 0 | 1 | 2): number =>
    kept.reduce((sum, lab) => sum + lab[p] * lab[q], 0) / Math.max(1, kept.length) + (p === q ? leastSpread ** 2 : 0);
  return [cov(0, 0), cov(0, 1), cov(0, 2), cov(0, 1), cov(1, 1), cov(1, 2), cov(0, 2), cov(1, 2), cov(2, 2)];
};
