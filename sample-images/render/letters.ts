import type { Rgb } from "./colour.ts";
import type { Raster } from "./raster.ts";

/** Strokes of each letter on a grid 4 wide and 6 high, so that no machine needs a font: "x,y x,y; x,y x,y". */
const strokes: Readonly<Record<string, string>> = {
  A: "0,6 2,0 4,6; 0.7,4 3.3,4",
  B: "0,0 0,6 3,6 4,5 4,4 3,3 0,3; 0,0 3,0 3.6,0.8 3.6,2.2 3,3",
  C: "4,1 3,0 1,0 0,1 0,5 1,6 3,6 4,5",
  D: "0,0 0,6 2.5,6 4,4.5 4,1.5 2.5,0 0,0",
  E: "4,0 0,0 0,6 4,6; 0,3 3,3",
  F: "4,0 0,0 0,6; 0,3 3,3",
  G: "4,1 3,0 1,0 0,1 0,5 1,6 3,6 4,5 4,3 2.4,3",
  H: "0,0 0,6; 4,0 4,6; 0,3 4,3",
  I: "2,0 2,6; 1,0 3,0; 1,6 3,6",
  J: "4,0 4,5 3,6 1,6 0,5",
  K: "0,0 0,6; 4,0 0,3.4; 1.3,2.6 4,6",
  L: "0,0 0,6 4,6",
  M: "0,6 0,0 2,3 4,0 4,6",
  N: "0,6 0,0 4,6 4,0",
  O: "1,0 3,0 4,1 4,5 3,6 1,6 0,5 0,1 1,0",
  P: "0,6 0,0 3,0 4,0.8 4,2.4 3,3.2 0,3.2",
  Q: "1,0 3,0 4,1 4,5 3,6 1,6 0,5 0,1 1,0; 2.6,4.4 4,6",
  R: "0,6 0,0 3,0 4,0.8 4,2.4 3,3.2 0,3.2; 2,3.2 4,6",
  S: "4,1 3,0 1,0 0,1 0,2 1,3 3,3 4,4 4,5 3,6 1,6 0,5",
  T: "0,0 4,0; 2,0 2,6",
  U: "0,0 0,5 1,6 3,6 4,5 4,0",
  V: "0,0 2,6 4,0",
  W: "0,0 1,6 2,2.5 3,6 4,0",
  X: "0,0 4,6; 4,0 0,6",
  Y: "0,0 2,3 4,0; 2,3 2,6",
  Z: "0,0 4,0 0,6 4,6",
  "0": "1,0 3,0 4,1 4,5 3,6 1,6 0,5 0,1 1,0",
  "1": "0.8,1.2 2.2,0 2.2,6; 0.8,6 3.6,6",
  "2": "0,1 1,0 3,0 4,1 4,2 0,6 4,6",
  "3": "0,0.8 1,0 3,0 4,1 4,2 3,3 1.6,3; 3,3 4,4 4,5 3,6 1,6 0,5.2",
  "4": "3,6 3,0 0,4 4,4",
  "5": "4,0 0.3,0 0,2.8 1,2.4 3,2.4 4,3.4 4,5 3,6 1,6 0,5",
  "6": "3.6,0.4 2,0 0.8,0.8 0,2.6 0,5 1,6 3,6 4,5 4,3.8 3,2.8 1,2.8 0,3.8",
  "7": "0,0 4,0 1.4,6",
  "8": "1,3 0.3,2.2 0.3,0.8 1,0 3,0 3.7,0.8 3.7,2.2 3,3 1,3 0,4 0,5.2 1,6 3,6 4,5.2 4,4 3,3",
  "9": "0.4,5.6 2,6 3.2,5.2 4,3.4 4,1 3,0 1,0 0,1 0,2.2 1,3.2 3,3.2 4,2.2",
};

type Segment = readonly [x0: number, y0: number, x1: number, y1: number];

const segmentsOf = (letter: string): Segment[] =>
  (strokes[letter] ?? "").split(";").flatMap((line) => {
    const points = line
      .trim()
      .split(" ")
      .map((point) => point.split(",").map(Number));
    return points.slice(1).map((end, i): Segment => {
      const start = points[i] ?? end;
      return [start[0] ?? 0, start[1] ?? 0, end[0] ?? 0, end[1] ?? 0];
    });
  });

const distance = (x: number, y: number, [x0, y0, x1, y1]: Segment): number => {
  const length2 = (x1 - x0) ** 2 + (y1 - y0) ** 2;
  const along = length2 === 0 ? 0 : ((x - x0) * (x1 - x0) + (y - y0) * (y1 - y0)) / length2;
  const t = Math.min(1, Math.max(0, along));
  return Math.hypot(x - x0 - t * (x1 - x0), y - y0 - t * (y1 - y0));
};

/** Writes upper-case text; (x, y) is its top left corner in mm, a letter is two thirds as wide as high. */
export const write = (raster: Raster, text: string, xMm: number, yMm: number, heightMm: number, colour: Rgb): void => {
  const unit = heightMm / 6;
  const half = heightMm * 0.075;
  const s = raster.pxPerMm;
  text.split("").forEach((letter, index) => {
    const left = xMm + index * 5.4 * unit;
    for (const [x0, y0, x1, y1] of segmentsOf(letter)) {
      const segment: Segment = [left + x0 * unit, yMm + y0 * unit, left + x1 * unit, yMm + y1 * unit];
      const fromX = Math.max(0, Math.floor((Math.min(segment[0], segment[2]) - half - raster.windowMm[0]) * s));
      const toX = Math.min(raster.width, Math.ceil((Math.max(segment[0], segment[2]) + half - raster.windowMm[0]) * s));
      const fromY = Math.max(0, Math.floor((Math.min(segment[1], segment[3]) - half - raster.windowMm[1]) * s));
      const toY = Math.min(
        raster.height,
        Math.ceil((Math.max(segment[1], segment[3]) + half - raster.windowMm[1]) * s),
      );
      for (let y = fromY; y < toY; y++)
        for (let x = fromX; x < toX; x++) {
          const away = distance((x + 0.5) / s + raster.windowMm[0], (y + 0.5) / s + raster.windowMm[1], segment);
          const cover = Math.min(1, Math.max(0, (half - away) * s + 0.5));
          const i = (y * raster.width + x) * 3;
          for (let k = 0; k < 3; k++) raster.data[i + k]! += cover * (colour[k]! - raster.data[i + k]!);
        }
    }
  });
};
