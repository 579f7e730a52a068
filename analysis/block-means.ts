import type { Stepped } from "./pixels.ts";

/** A picture shrunk by whole blocks: sums of codes over the `pixels` read of each block, upright, one plane a channel. */
export interface BlockSums {
  readonly red: Float32Array;
  readonly green: Float32Array;
  readonly blue: Float32Array;
  readonly width: number;
  readonly height: number;
  readonly pixels: number;
}

/**
 * Sums over square blocks of `block` px; a strip narrower than a block at the right and the bottom is left away. Of each
 * block two lines are read, a quarter in from its sides: they quiet the noise, and all would cost twice as much and more.
 * Lines run as the pixels are stored, so that memory is read in its order.
 */
export const blockSums = ({ data, width, height, first, right, down }: Stepped, block: number): BlockSums => {
  const columns = Math.floor(width / block);
  const rows = Math.floor(height / block);
  const red = new Float32Array(columns * rows);
  const green = new Float32Array(columns * rows);
  const blue = new Float32Array(columns * rows);
  const level = Math.abs(right) < Math.abs(down);
  const [along, across] = level ? [right, down] : [down, right];
  const [lines, length] = level ? [rows, columns] : [columns, rows];
  const [nextLine, next] = level ? [columns, 1] : [1, columns];
  const near = Math.floor(block / 4);
  const apart = (Math.floor((3 * block) / 4) - near) * across;
  for (let line = 0; line < lines; line++) {
    let at = first + (line * block + near) * across;
    let to = line * nextLine;
    for (let i = 0; i < length; i++, to += next) {
      let r = 0;
      let g = 0;
      let b = 0;
      for (let n = 0; n < block; n++, at += along) {
        const other = at + apart;
        r += data[at]! + data[other]!;
        g += data[at + 1]! + data[other + 1]!;
        b += data[at + 2]! + data[other + 2]!;
      }
      red[to] = r;
      green[to] = g;
      blue[to] = b;
    }
  }
  return { red, green, blue, width: columns, height: rows, pixels: 2 * block };
};
