import type { Point } from "../pixels.ts";
import type { WorkingPicture } from "./working-picture.ts";

/** A connected stretch of even colour, measured as the rectangle with the same spread; px of the working picture. */
export interface EvenPatch {
  readonly middle: Point;
  /** Direction of the long side. */
  readonly angle: number;
  readonly longPx: number;
  readonly shortPx: number;
  /** Share of the rectangle that is filled: 1 for a rectangle, less for a ring or a slant shape. */
  readonly fullness: number;
  readonly colour: readonly [number, number, number];
}

/** Even paint differs by at most this much from one px to the next, and over four px, codes in any channel: noise and slope. */
const evenStep = 5;
const evenOverFour = 8;

/** What a patch loses at each border, px: two where four px reach over the edge, and half a px of blur. */
const borderPx = 2.5;

/** Patches are worth looking at from this share of the picture on, and up to that: a card is neither a speck nor the wall. */
const leastShare = 0.002;
const mostShare = 0.3;

/** All even patches of middling size, by filling from every pixel not yet reached. */
export const evenPatches = (picture: WorkingPicture): EvenPatch[] => {
  const { red, green, blue, width, height } = picture;
  const size = width * height;
  const seen = unevenPixels(picture);
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

/** 1 where colour changes within two px about a pixel: no patch goes there, so that none leaks over a soft edge. */
const unevenPixels = ({ red, green, blue, width, height }: WorkingPicture): Uint8Array => {
  const uneven = new Uint8Array(width * height).fill(1);
  const step = 2 * width;
  for (let y = 2; y < height - 2; y++) {
    for (let i = y * width + 2; i < (y + 1) * width - 2; i++) {
      if (
        Math.abs(red[i + 2]! - red[i - 2]!) <= evenOverFour &&
        Math.abs(green[i + 2]! - green[i - 2]!) <= evenOverFour &&
        Math.abs(blue[i + 2]! - blue[i - 2]!) <= evenOverFour &&
        Math.abs(red[i + step]! - red[i - step]!) <= evenOverFour &&
        Math.abs(green[i + step]! - green[i - step]!) <= evenOverFour &&
        Math.abs(blue[i + step]! - blue[i - step]!) <= evenOverFour
      ) {
        uneven[i] = 0;
      }
    }
  }
  return uneven;
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
  const long = Math.sqrt(12 * (mean + apart));
  const short = Math.sqrt(12 * Math.max(0, mean - apart));
  return {
    middle: [sx / n, sy / n],
    angle: 0.5 * Math.atan2(2 * xy, xx - yy),
    longPx: long + 2 * borderPx,
    shortPx: short + 2 * borderPx,
    fullness: n / (long * short + 1),
    colour: [r / n, g / n, b / n],
  };
};
