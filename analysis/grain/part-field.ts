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

/** Side of the squares a part is copied in, cells. */
const square = 32;

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
  const [nextAlong, nextAcross] = upright ? [grid.width, 1] : [1, grid.width];
  const [red, green, blue] = light;
  // In squares, so that neither the rows read nor the rows written fall out of the processor's nearest cache.
  for (let top = 0; top < across; top += square)
    for (let left = 0; left < along; left += square)
      for (let j = top; j < Math.min(across, top + square); j++) {
        let from = y0 * grid.width + x0 + j * nextAcross + left * nextAlong;
        const end = j * along + Math.min(along, left + square);
        for (let to = j * along + left; to < end; to++, from += nextAlong) {
          usable[to] = grid.usable[from]!;
          red[to] = grid.data[3 * from]!;
          green[to] = grid.data[3 * from + 1]!;
          blue[to] = grid.data[3 * from + 2]!;
        }
      }
  const boxMm: PartField["boxMm"] = (a0, c0, a1, c1) =>
    upright
      ? [(x0 + c0) * cell, (y0 + a0) * cell, (c1 - c0) * cell, (a1 - a0) * cell]
      : [(x0 + a0) * cell, (y0 + c0) * cell, (a1 - a0) * cell, (c1 - c0) * cell];
  return { along, across, mmPerCell: cell, light, usable, boxMm };
};

/** Mean light of the usable cells; null when there are fewer than a thousand. */
export const meanLight = ({ light, usable }: PartField): Vector3 | null => {
  const [red, green, blue] = light;
  let counted = 0;
  let r = 0;
  let g = 0;
  let b = 0;
  for (let i = 0; i < usable.length; i++) {
    if (!usable[i]) continue;
    counted++;
    r += red[i]!;
    g += green[i]!;
    b += blue[i]!;
  }
  return counted < 1000 ? null : [r / counted, g / counted, b / counted];
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
