import type { Pixels, Point } from "../pixels.ts";

/** Rows along the side that one station averages, so that grain does not count as an edge. */
const rowsPerStation = 6;

/** Mean colour across the side from `reach` px inside to `reach` px outside, one sample a px, R, G, B in turn. */
export const profile = (
  { data, width, height, first, right, down }: Pixels,
  from: Point,
  along: Point,
  outward: Point,
  at: number,
  span: number,
  reach: number,
): Float32Array => {
  const out = new Float32Array((2 * reach + 1) * 3);
  for (let row = 0; row < rowsPerStation; row++) {
    const s = at + ((row + 0.5) / rowsPerStation - 0.5) * span;
    let x = from[0] + along[0] * s - outward[0] * reach - 0.5;
    let y = from[1] + along[1] * s - outward[1] * reach - 0.5;
    for (let t = 0; t < out.length; t += 3, x += outward[0], y += outward[1]) {
      const px = Math.min(width - 2, Math.max(0, Math.floor(x)));
      const py = Math.min(height - 2, Math.max(0, Math.floor(y)));
      const fx = Math.min(1, Math.max(0, x - px));
      const fy = Math.min(1, Math.max(0, y - py));
      const p = first + py * down + px * right;
      const q = p + down;
      for (let c = 0; c < 3; c++) {
        out[t + c]! +=
          ((data[p + c]! * (1 - fx) + data[p + right + c]! * fx) * (1 - fy) +
            (data[q + c]! * (1 - fx) + data[q + right + c]! * fx) * fy) /
          rowsPerStation;
      }
    }
  }
  return out;
};

/** Size of the colour step at each sample of a profile: two samples after against two before, codes. */
export const stepsAcross = (colours: Float32Array): Float32Array => {
  const n = colours.length / 3;
  const out = new Float32Array(n);
  for (let t = 2; t < n - 2; t++) {
    let sum = 0;
    for (let c = 0; c < 3; c++) {
      const i = t * 3 + c;
      const d = (colours[i + 3]! + colours[i + 6]! - colours[i - 3]! - colours[i - 6]!) / 2;
      sum += d * d;
    }
    out[t] = Math.sqrt(sum);
  }
  return out;
};
