import { blockSums } from "../block-means.ts";
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
export const workingPicture = (pixels: Pixels): WorkingPicture => {
  const block = Math.max(1, Math.ceil(Math.max(pixels.width, pixels.height) / longestSidePx));
  const { red, green, blue, width, height, pixels: read } = blockSums(pixels, block);
  const scale = 1 / read;
  for (let i = 0; i < red.length; i++) {
    red[i]! *= scale;
    green[i]! *= scale;
    blue[i]! *= scale;
  }
  return { red, green, blue, width, height, block };
};
