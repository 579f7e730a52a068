import { nthSmallest } from "../algebra/nth-smallest.ts";
import { blockSums } from "../block-means.ts";
import type { Stepped } from "../pixels.ts";
import { type GateResult, judge } from "./gate-limits.ts";

/** A small grey picture: code values row by row, and the longest side of the photo it was made from. */
export interface SmallPicture {
  readonly luma: Uint8Array;
  readonly width: number;
  readonly height: number;
  readonly photoLongestSidePx: number;
}

const smallLongestSidePx = 800;

/**
 * Shrinks a photo to a grey picture at most 800 px long by block means. Luma is (R + 2 G + B) / 4: enough to judge
 * sharpness and exposure by.
 */
export const smallPicture = (picture: Stepped): SmallPicture => {
  const longest = Math.max(picture.width, picture.height);
  const block = Math.max(1, Math.ceil(longest / smallLongestSidePx));
  const { red, green, blue, width, height, pixels } = blockSums(picture, block);
  const luma = new Uint8Array(width * height);
  const scale = 1 / (4 * pixels);
  for (let i = 0; i < luma.length; i++) luma[i] = (red[i]! + 2 * green[i]! + blue[i]!) * scale + 0.5;
  return { luma, width, height, photoLongestSidePx: longest };
};

/** The gates that need no geometry, in the order in which to tell them: size, light, sharpness. */
export const judgePicture = (picture: SmallPicture): readonly GateResult[] => {
  const shares = brightness(picture);
  return [
    judge("too-small", picture.photoLongestSidePx),
    judge("too-dark", shares.brightest),
    judge("clipped", shares.clipped),
    judge("blur", edgeWidth(picture)),
  ];
};

/** Linear light (0..1) that a fiftieth of the picture exceeds, and the share of codes at 254 or above. */
export const brightness = ({ luma }: SmallPicture): { brightest: number; clipped: number } => {
  const counts = new Uint32Array(256);
  for (let i = 0; i < luma.length; i++) counts[luma[i]!]!++;
  let left = luma.length / 50;
  let code = 255;
  while (code > 0 && left > counts[code]!) left -= counts[code--]!;
  const v = code / 255;
  return {
    brightest: v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4,
    clipped: (counts[254]! + counts[255]!) / Math.max(1, luma.length),
  };
};

/**
 * Width in px of the sharpest edges present: step height over steepest slope, the lowest tenth of all clear edges, taken
 * along rows and along columns and the worse of the two, since a shaken photo is blurred one way only. Wood cannot
 * lower it: an edge counts when it steps by a sixth of the picture's range. 0 when there is no clear edge to judge by.
 */
const edgeWidth = ({ luma, width, height }: SmallPicture): number => {
  const step = Math.max(12, range(luma) / 6);
  return Math.max(
    sharpestTenth(luma, height, width, width, 1, step),
    sharpestTenth(luma, width, height, 1, width, step),
  );
};

/** Half the distance over which an edge may rise, px: wide enough for a blur of 4 px standard deviation. */
const reach = 10;

const sharpestTenth = (
  luma: Uint8Array,
  lines: number,
  length: number,
  lineStride: number,
  stride: number,
  step: number,
) => {
  const widths: number[] = [];
  for (let line = 1; line < lines - 1; line += 2) {
    const start = line * lineStride;
    for (let i = reach; i < length - reach; i++) {
      const at = start + i * stride;
      const slope = Math.abs(luma[at + stride]! - luma[at - stride]!) / 2;
      if (slope * 2 * reach < step) continue;
      const rise = Math.abs(luma[at + reach * stride]! - luma[at - reach * stride]!);
      if (rise < step) continue;
      const before = Math.abs(luma[at]! - luma[at - 2 * stride]!) / 2;
      const after = Math.abs(luma[at + 2 * stride]! - luma[at]!) / 2;
      if (slope >= before && slope > after) widths.push(rise / slope);
    }
  }
  if (widths.length < 30) return 0;
  return nthSmallest(new Float64Array(widths), Math.floor(widths.length / 10));
};

/** Codes between the first and the last hundredth of the picture. */
const range = (luma: Uint8Array): number => {
  const counts = new Uint32Array(256);
  for (let i = 0; i < luma.length; i++) counts[luma[i]!]!++;
  const few = luma.length / 100;
  let low = 0;
  for (let seen = counts[0]!; seen < few && low < 255; ) seen += counts[++low]!;
  let high = 255;
  for (let seen = counts[255]!; seen < few && high > 0; ) seen += counts[--high]!;
  return Math.max(0, high - low);
};
