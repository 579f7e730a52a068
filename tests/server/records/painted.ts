import { inflateSync } from "node:zlib";
import { type Pixels, uprightPixels } from "../../../analysis/pixels.ts";

interface Painted {
  readonly x: number;
  readonly y: number;
  readonly w: number;
  readonly h: number;
  /** 0 black to 1 white. */
  readonly grey: number;
}

const contentOf = (pdf: Buffer): string[] =>
  [...pdf.toString("latin1").matchAll(/\/Length (\d+)\n\/Filter \/FlateDecode\n>>\nstream\n/g)].flatMap((found) => {
    const start = (found.index ?? 0) + found[0].length;
    const text = inflateSync(pdf.subarray(start, start + Number(found[1]))).toString("latin1");
    return text.startsWith("1 0 0 -1 0 841.89 cm") ? [text] : [];
  });

/** The filled rectangles of each page in pt from its top left corner, in the order of painting. */
export const paintedRectangles = (pdf: Buffer): Painted[][] =>
  contentOf(pdf).map((text) => {
    const painted: Painted[] = [];
    let waiting: Omit<Painted, "grey">[] = [];
    let grey = 0;
    for (const line of text.split("\n")) {
      const rectangle = /^(\S+) (\S+) (\S+) (\S+) re$/.exec(line);
      const ink = /^(\S+) \S+ \S+ scn$/.exec(line);
      if (rectangle) {
        const [x = 0, y = 0, w = 0, h = 0] = rectangle.slice(1).map(Number);
        waiting.push({ x, y, w, h });
      } else if (ink) grey = Number(ink[1]);
      else if (line === "f") painted.push(...waiting.map((one) => ({ ...one, grey })));
      if (line === "f" || line === "S" || line === "B") waiting = [];
    }
    return painted;
  });

/** The rectangles of an A4 page as a picture, `pxPerMm` px to the mm, on white. */
export const paint = (rectangles: readonly Painted[], pxPerMm: number): Pixels => {
  const scale = (pxPerMm * 25.4) / 72;
  const [width, height] = [210 * pxPerMm, 297 * pxPerMm];
  const data = new Uint8Array(width * height * 3).fill(255);
  for (const { x, y, w, h, grey } of rectangles)
    for (let row = Math.round(y * scale); row < Math.round((y + h) * scale); row += 1)
      data.fill(
        Math.round(255 * grey),
        3 * (row * width + Math.round(x * scale)),
        3 * (row * width + Math.round((x + w) * scale)),
      );
  return uprightPixels(data, width, height, "srgb");
};
