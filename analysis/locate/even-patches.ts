import type { Point } from "../pixels.ts";
import type { WorkingPicture } from "./working-picture.ts";

/** A connected stretch of even colour, measured as the rectangle with the same spread; px of the working picture. */
export interface EvenPatch {
  readonly middle: Point;
  /** Direction of the long side. */
  readonly angle: number;
  readonly longPx: number;
  readonly shortPx: number;
  readonly areaPx: number;
  readonly colour: readonly [number, number, number];
}

/** Neighbours differ by at most this much, codes in any channel, in a patch of even paint: noise of block means and light slope. */
const evenStep = 5;

/** Patches are worth looking at from this share of the picture on, and up to that: a card is neither a speck nor the wall. */
const leastShare = 0.002;
const mostShare = 0.3;

/** All even patches of middling size, by filling from every pixel not yet reached. */
export const evenPatches = (picture: WorkingPicture): EvenPatch[] => {
  const { red, green, blue, width, height } = picture;
  const size = width * height;
  const seen = new Uint8Array(size);
  const queue = new Int32Array(size);
  const found: EvenPatch[] = [];
  for (let start = 0; start < size; start++) {
    if (seen[start]) continue;
    queue[0] = start;
    seen[start] = 1;
    let end = 1;
    for (let k = 0; k < end; k++) {
      const i = queue[k]!;
      const x = i % width;
      const r = red[i]!;
      const g = green[i]!;
      const b = blue[i]!;
      for (let way = 0; way < 4; way++) {
        const j = way === 0 ? i - width : way === 1 ? i + width : way === 2 ? i - 1 : i + 1;
        if (j < 0 || j >= size || seen[j]) continue;
        if ((way === 2 && x === 0) || (way === 3 && x === width - 1)) continue;
        if (Math.abs(red[j]! - r) > evenStep || Math.abs(green[j]! - g) > evenStep || Math.abs(blue[j]! - b) > evenStep)
          continue;
        seen[j] = 1;
        queue[end++] = j;
      }
    }
    if (end > leastShare * size && end < mostShare * size) found.push(measure(queue.subarray(0, end), picture));
  }
  return found;
};

/** The rectangle with the same middle and spread: an evenly filled one has a variance of a twelfth of its side squared. */
const measure = (members: Int32Array, { red, green, blue, width }: WorkingPicture): EvenPatch => {
  const n = members.length;
  let sx = 0;
  let sy = 0;
  let sxx = 0;
  let sxy = 0;
  let syy = 0;
  let r = 0;
  let g = 0;
  let b = 0;
  for (let k = 0; k < n; k++) {
    const i = members[k]!;
    const x = (i % width) + 0.5;
    const y = Math.floor(i / width) + 0.5;
    sx += x;
    sy += y;
    sxx += x * x;
    sxy += x * y;
    syy += y * y;
    r += red[i]!;
    g += green[i]!;
    b += blue[i]!;
  }
  const xx = sxx / n - (sx / n) ** 2;
  const xy = sxy / n - (sx / n) * (sy / n);
  const yy = syy / n - (sy / n) ** 2;
  const mean = (xx + yy) / 2;
  const apart = Math.hypot((xx - yy) / 2, xy);
  return {
    middle: [sx / n, sy / n],
    angle: 0.5 * Math.atan2(2 * xy, xx - yy),
    longPx: Math.sqrt(12 * (mean + apart)),
    shortPx: Math.sqrt(12 * Math.max(0, mean - apart)),
    areaPx: n,
    colour: [r / n, g / n, b / n],
  };
};
