import { fileURLToPath } from "node:url";
import sharp from "sharp";
import { decode } from "./colour.ts";

/** The structure of a wood picture: log of luminance, its own shading taken out, mean 0 and standard deviation 1, grain upright. */
export interface GrainTile {
  readonly data: Float32Array;
  readonly width: number;
  readonly height: number;
}

const boxMean = (data: Float32Array, width: number, height: number, reach: number): Float32Array => {
  const pass = (from: Float32Array, count: number, step: number, lines: number, lineStep: number): Float32Array => {
    const out = new Float32Array(from.length);
    for (let line = 0; line < lines; line++)
      for (let i = 0; i < count; i++) {
        let sum = 0;
        let seen = 0;
        for (let j = Math.max(0, i - reach); j <= Math.min(count - 1, i + reach); j++, seen++)
          sum += from[line * lineStep + j * step]!;
        out[line * lineStep + i * step] = sum / seen;
      }
    return out;
  };
  return pass(pass(data, width, 1, height, width), height, width, width, 1);
};

/** Reads a tile from `textures/`; `turned` when its grain lies across. */
export const readGrainTile = async (file: string, turned: boolean): Promise<GrainTile> => {
  const path = fileURLToPath(new URL(`textures/${file}`, import.meta.url));
  const picture = sharp(path).toColourspace("srgb").removeAlpha();
  const { data, info } = await (turned ? picture.rotate(90) : picture).raw().toBuffer({ resolveWithObject: true });
  const { width, height } = info;
  const log = new Float32Array(width * height);
  for (let i = 0; i < log.length; i++) {
    const [r, g, b] = [0, 1, 2].map((k) => decode(data[i * 3 + k]! / 255)) as [number, number, number];
    log[i] = Math.log(0.01 + 0.2126 * r + 0.7152 * g + 0.0722 * b);
  }
  const shading = boxMean(log, width, height, 48);
  let sum = 0;
  let squares = 0;
  for (let i = 0; i < log.length; i++) {
    const v = log[i]! - shading[i]!;
    log[i] = v;
    sum += v;
    squares += v * v;
  }
  const mean = sum / log.length;
  const spread = Math.sqrt(squares / log.length - mean * mean);
  for (let i = 0; i < log.length; i++) log[i] = Math.max(-3, Math.min(3, (log[i]! - mean) / spread));
  return { data: log, width, height };
};

const folded = (v: number, size: number): number => {
  const turn = Math.abs(v) % (2 * size);
  return turn < size ? turn : 2 * size - turn;
};

/** Structure at a place in tile pixels, blended; the tile is mirrored on and on, so that it has no seam. */
export const grainAt = ({ data, width, height }: GrainTile, x: number, y: number): number => {
  const px = folded(x, width - 1.001);
  const py = folded(y, height - 1.001);
  const x0 = px | 0;
  const y0 = py | 0;
  const fx = px - x0;
  const fy = py - y0;
  const i = y0 * width + x0;
  const upper = data[i]! + fx * (data[i + 1]! - data[i]!);
  const lower = data[i + width]! + fx * (data[i + width + 1]! - data[i + width]!);
  return upper + fy * (lower - upper);
};
