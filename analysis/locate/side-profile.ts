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
  const [stepX, stepY] = outward;
  for (let row = 0; row < rowsPerStation; row++) {
    const s = at + ((row + 0.5) / rowsPerStation - 0.5) * span;
    let x = from[0] + along[0] * s - stepX * reach - 0.5;
    let y = from[1] + along[1] * s - stepY * reach - 0.5;
    const [endX, endY] = [x + 2 * reach * stepX, y + 2 * reach * stepY];
    const inFrame =
      Math.min(x, endX) >= 0 &&
      Math.min(y, endY) >= 0 &&
      Math.max(x, endX) < width - 1 &&
      Math.max(y, endY) < height - 1;
    for (let t = 0; t < out.length; t += 3, x += stepX, y += stepY) {
      const px = inFrame ? x | 0 : Math.min(width - 2, Math.max(0, Math.floor(x)));
      const py = inFrame ? y | 0 : Math.min(height - 2, Math.max(0, Math.floor(y)));
      const fx = inFrame ? x - px : Math.min(1, Math.max(0, x - px));
      const fy = inFrame ? y - py : Math.min(1, Math.max(0, y - py));
      const p = (first + Math.imul(py, down) + Math.imul(px, right)) | 0;
      const q = (p + right) | 0;
      const u = (p + down) | 0;
      const v = (u + right) | 0;
      const ofV = fx * fy;
      const ofU = fy - ofV;
      const ofQ = fx - ofV;
      const ofP = 1 - fx - ofU;
      out[t]! += data[p]! * ofP + data[q]! * ofQ + data[u]! * ofU + data[v]! * ofV;
      out[t + 1]! += data[p + 1]! * ofP + data[q + 1]! * ofQ + data[u + 1]! * ofU + data[v + 1]! * ofV;
      out[t + 2]! += data[p + 2]! * ofP + data[q + 2]! * ofQ + data[u + 2]! * ofU + data[v + 2]! * ofV;
    }
  }
  for (let t = 0; t < out.length; t++) out[t]! /= rowsPerStation;
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
