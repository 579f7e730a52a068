import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { prepareZXingModule, type ReaderOptions, readBarcodes } from "zxing-wasm/reader";
import type { Pixels, Quad } from "../../analysis/pixels.ts";

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

/** Every `step`-th pixel of the luma, averaged over step x step, as grey RGBA. */
const greyPicture = (
  { data, width, height }: Pixels,
  step: 1 | 2,
): { data: Uint8ClampedArray<ArrayBuffer>; width: number; height: number } => {
  const w = Math.floor(width / step);
  const h = Math.floor(height / step);
  const grey = new Uint32Array(w * h);
  const row = width * 3;
  for (let y = 0, to = 0; y < h; y += 1) {
    for (let x = 0, at = y * step * row; x < w; x += 1, at += 3 * step, to += 1) {
      let luma = data[at]! + 2 * data[at + 1]! + data[at + 2]!;
      if (step === 2) {
        luma += data[at + 3]! + 2 * data[at + 4]! + data[at + 5]!;
        luma += data[at + row]! + 2 * data[at + row + 1]! + data[at + row + 2]!;
        luma += data[at + row + 3]! + 2 * data[at + row + 4]! + data[at + row + 5]!;
        luma >>= 2;
      }
      const value = luma >> 2;
      grey[to] = 0xff000000 | (value << 16) | (value << 8) | value;
    }
  }
  return { data: new Uint8ClampedArray(grey.buffer), width: w, height: h };
};

const readAt = async (pixels: Pixels, step: 1 | 2): Promise<ReadCode[]> => {
  const picture = greyPicture(pixels, step);
  const results = await readBarcodes({ ...picture, colorSpace: "srgb" } as ImageData, OPTIONS);
  const point = ({ x, y }: { x: number; y: number }) => [(x + 0.5) * step, (y + 0.5) * step] as const;
  return results
    .filter(({ isValid }) => isValid)
    .map(({ text, position: p }) => ({
      text,
      corners: [point(p.topLeft), point(p.topRight), point(p.bottomRight), point(p.bottomLeft)],
    }));
};

/**
 * QR codes in a photo: read at half size first; at full size, six times dearer, when `enough` says that is not enough.
 */
export const readCodes = async (
  pixels: Pixels,
  enough: (codes: readonly ReadCode[]) => boolean,
): Promise<ReadCode[]> => {
  await prepare();
  const half = await readAt(pixels, 2);
  return enough(half)
    ? half
    : [...half, ...(await readAt(pixels, 1)).filter(({ text }) => !half.some((code) => code.text === text))];
};
