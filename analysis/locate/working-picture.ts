import type { Pixels } from "../pixels.ts";

/** A photo shrunk by whole blocks: code values 0..255 as floats, one plane a channel. A px here is `block` px of the photo. */
export interface WorkingPicture {
  readonly red: Float32Array;
  readonly green: Float32Array;
  readonly blue: Float32Array;
  readonly width: number;
  readonly height: number;
  readonly block: number;
}

/** Longest side in which outlines are looked for, px: a leaf's edge is then still 2 to 3 mm sharp. */
const longestSidePx = 900;

/** Shrinks by block means. A strip narrower than a block at the right and the bottom is left away. */
export const workingPicture = ({ data, width, height }: Pixels): WorkingPicture => {
  const block = Math.max(1, Math.ceil(Math.max(width, height) / longestSidePx));
  const smallWidth = Math.floor(width / block);
  const smallHeight = Math.floor(height / block);
  const size = smallWidth * smallHeight;
  const red = new Float32Array(size);
  const green = new Float32Array(size);
  const blue = new Float32Array(size);
  const sums = new Uint32Array(smallWidth * 3);
  // Two rows of a block are enough to quiet the noise; reading the others would cost as much again.
  const rows = Math.min(block, 2);
  const scale = 1 / (block * rows);
  for (let row = 0; row < smallHeight; row++) {
    sums.fill(0);
    for (let n = 0; n < rows; n++) {
      const y = row * block + Math.floor(((n + 0.5) * block) / rows);
      let at = y * width * 3;
      for (let x = 0; x < sums.length; x += 3) {
        let r = 0;
        let g = 0;
        let b = 0;
        for (let m = 0; m < block; m++, at += 3) {
          r += data[at]!;
          g += data[at + 1]!;
          b += data[at + 2]!;
        }
        sums[x]! += r;
        sums[x + 1]! += g;
        sums[x + 2]! += b;
      }
    }
    const start = row * smallWidth;
    for (let x = 0; x < smallWidth; x++) {
      red[start + x] = sums[x * 3]! * scale;
      green[start + x] = sums[x * 3 + 1]! * scale;
      blue[start + x] = sums[x * 3 + 2]! * scale;
    }
  }
  return { red, green, blue, width: smallWidth, height: smallHeight, block };
};
