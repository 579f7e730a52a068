import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { prepareZXingModule, type ReaderOptions, readBarcodes } from "zxing-wasm/reader";
import type { Pixels, Point, Quad } from "../../analysis/pixels.ts";
import { PHOTO_LIMITS } from "./photo-limits.ts";

/** A QR code read in a photo, its corners in px of the upright photo, whole pixels, clockwise from its own top left. */
export interface ReadCode {
  readonly text: string;
  readonly corners: Quad;
}

const OPTIONS: ReaderOptions = {
  formats: ["QRCode"],
  tryHarder: true,
  tryRotate: true,
  tryInvert: false,
  tryDownscale: false,
  maxNumberOfSymbols: 24,
};

let ready: Promise<unknown> | null = null;

/** The reader is shipped with us and never fetched. */
const prepare = (): Promise<unknown> => {
  ready ??= readFile(fileURLToPath(import.meta.resolve("zxing-wasm/reader/zxing_reader.wasm"))).then((wasmBinary) =>
    prepareZXingModule({ overrides: { wasmBinary: wasmBinary.buffer as ArrayBuffer }, fireImmediately: true }),
  );
  return ready;
};

/**
 * The luma of a photo as a grey picture file (PGM, https://netpbm.sourceforge.net/doc/pgm.html), averaged over step x step
 * pixels: a byte a pixel, a quarter of what the reader's other way in would copy and turn to grey again. Rows run as the
 * photo's are stored, so a photo taken with the camera on its side lies on its left side here (`fromGrey` turns places back).
 */
const greyFile = ({ data, width, height, first, right, down }: Pixels, step: 1 | 2): Uint8Array => {
  const level = Math.abs(right) < Math.abs(down);
  const [start, along, across] = level ? [first, right, down] : [first + (width - 1) * right, down, -right];
  const columns = Math.floor((level ? width : height) / step);
  const rows = Math.floor((level ? height : width) / step);
  const head = new TextEncoder().encode(`P5 ${columns} ${rows} 255\n`);
  const file = new Uint8Array(head.length + columns * rows);
  file.set(head);
  const luma = file.subarray(head.length);
  if (step === 1) everyPixel(data, start, along, across, columns, luma);
  else fourPixels(data, start, along, across, columns, luma);
  return file;
};

const everyPixel = (
  data: Uint8Array,
  start: number,
  along: number,
  across: number,
  columns: number,
  luma: Uint8Array,
): void => {
  for (let to = 0, row = start; to < luma.length; row += across)
    for (let at = row, end = to + columns; to < end; to++, at += along)
      luma[to] = (data[at]! + 2 * data[at + 1]! + data[at + 2]!) >> 2;
};

const fourPixels = (
  data: Uint8Array,
  start: number,
  along: number,
  across: number,
  columns: number,
  luma: Uint8Array,
): void => {
  for (let to = 0, row = start; to < luma.length; row += 2 * across)
    for (let p = row, end = to + columns; to < end; to++, p += 2 * along) {
      const q = p + along;
      const r = p + across;
      const s = q + across;
      const upper = data[p]! + 2 * data[p + 1]! + data[p + 2]! + data[q]! + 2 * data[q + 1]! + data[q + 2]!;
      const lower = data[r]! + 2 * data[r + 1]! + data[r + 2]! + data[s]! + 2 * data[s + 1]! + data[s + 2]!;
      luma[to] = (upper + lower) >> 4;
    }
};

/** A place in the grey picture, px counted from the middle of its first, as a place in the upright photo. */
const fromGrey = ({ width, right, down }: Pixels, step: 1 | 2, { x, y }: { x: number; y: number }): Point =>
  Math.abs(right) < Math.abs(down)
    ? [(x + 0.5) * step, (y + 0.5) * step]
    : [width - (y + 0.5) * step, (x + 0.5) * step];

const readAt = async (pixels: Pixels, step: 1 | 2): Promise<ReadCode[]> => {
  const results = await readBarcodes(greyFile(pixels, step), OPTIONS);
  const point = (place: { x: number; y: number }): Point => fromGrey(pixels, step, place);
  return results
    .filter(({ isValid }) => isValid)
    .map(({ text, position: p }) => ({
      text,
      corners: [point(p.topLeft), point(p.topRight), point(p.bottomRight), point(p.bottomLeft)],
    }));
};

/**
 * QR codes in a photo: read at half size first; at full size, six times dearer, when `enough` says that is not enough and the photo
 * is not too large for it.
 */
export const readCodes = async (
  pixels: Pixels,
  enough: (codes: readonly ReadCode[]) => boolean,
): Promise<ReadCode[]> => {
  await prepare();
  const half = await readAt(pixels, 2);
  return enough(half) || pixels.width * pixels.height > PHOTO_LIMITS.codesAtFullSize
    ? half
    : [...half, ...(await readAt(pixels, 1)).filter(({ text }) => !half.some((code) => code.text === text))];
};
