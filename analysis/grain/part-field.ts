import { apply3, type Matrix3, type Vector3 } from "../algebra/matrix3.ts";
import { lab65Slopes } from "../colour/lab.ts";
import type { Part, RectMm } from "../leaf-parts.ts";
import type { FaceGrid } from "../rectify/resample.ts";

/**
 * One part with its grain running along the rows: `along` cells a row, `across` rows. `light` holds linear RGB, one plane a channel.
 * `boxMm` takes a box of cells to mm on the face.
 */
export interface PartField {
  readonly along: number;
  readonly across: number;
  readonly mmPerCell: number;
  readonly light: readonly [Float32Array, Float32Array, Float32Array];
  readonly usable: Uint8Array;
  readonly boxMm: (fromAlong: number, fromAcross: number, toAlong: number, toAcross: number) => RectMm;
}

/** Cuts a part out of the face, leaving out `insetMm` along its sides where it meets another part. Null when nothing is left. */
export const fieldOf = (
  grid: FaceGrid,
  part: Part,
  insetMm: (side: "left" | "top" | "right" | "bottom") => number,
): PartField | null => {
  const [x, y, w, h] = part.rectMm;
  const cell = grid.mmPerCell;
  const x0 = Math.max(0, Math.ceil((x + insetMm("left")) / cell));
  const y0 = Math.max(0, Math.ceil((y + insetMm("top")) / cell));
  const x1 = Math.min(grid.width, Math.floor((x + w - insetMm("right")) / cell));
  const y1 = Math.min(grid.height, Math.floor((y + h - insetMm("bottom")) / cell));
  if (x1 - x0 < 8 || y1 - y0 < 8) return null;
  const upright = part.grain === "v";
  const along = upright ? y1 - y0 : x1 - x0;
  const across = upright ? x1 - x0 : y1 - y0;
  const light = [0, 1, 2].map(() => new Float32Array(along * across)) as [Float32Array, Float32Array, Float32Array];
  const usable = new Uint8Array(along * across);
  for (let j = 0; j < across; j++)
    for (let i = 0; i < along; i++) {
      const from = upright ? (y0 + i) * grid.width + x0 + j : (y0 + j) * grid.width + x0 + i;
      const to = j * along + i;
      usable[to] = grid.usable[from]!;
      light[0][to] = grid.data[3 * from]!;
      light[1][to] = grid.data[3 * from + 1]!;
      light[2][to] = grid.data[3 * from + 2]!;
    }
  const boxMm: PartField["boxMm"] = (a0, c0, a1, c1) =>
    upright
      ? [(x0 + c0) * cell, (y0 + a0) * cell, (c1 - c0) * cell, (a1 - a0) * cell]
      : [(x0 + a0) * cell, (y0 + c0) * cell, (a1 - a0) * cell, (c1 - c0) * cell];
  return { along, across, mmPerCell: cell, light, usable, boxMm };
};

/** Mean light of the usable cells; null when there are fewer than a thousand. */
export const meanLight = ({ light, usable }: PartField): Vector3 | null => {
  const counted = usable.reduce((sum, one) => sum + one, 0);
  if (counted < 1000) return null;
  const mean = (plane: Float32Array): number => plane.reduce((sum, value, i) => sum + value * usable[i]!, 0) / counted;
  return [mean(light[0]), mean(light[1]), mean(light[2])];
};

/** How L*, a*, b* move when red, green, blue of a light each grow by one part in one; for small changes of that light. */
export const labPerShare = (rgb: Vector3, toXyz: Matrix3): Matrix3 => {
  const xyz = apply3(toXyz, rgb);
  const s = lab65Slopes(xyz);
  const [m0, m1, m2, m3, m4, m5, m6, m7, m8] = toXyz;
  const [r, g, b] = rgb;
  const row = (p: number, q: number, t: number): [number, number, number] => [
    (p * m0 + q * m3 + t * m6) * r,
    (p * m1 + q * m4 + t * m7) * g,
    (p * m2 + q * m5 + t * m8) * b,
  ];
  return [...row(s[0], s[1], s[2]), ...row(s[3], s[4], s[5]), ...row(s[6], s[7], s[8])] as Matrix3;
};
