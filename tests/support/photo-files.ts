import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { deflateSync } from "node:zlib";
import sharp from "sharp";
import type { Pixels } from "../../analysis/pixels.ts";
import { pngChunk } from "./odd-pictures/png-parts.ts";
import { temporaryFolder } from "./temporary-folder.ts";

/** An upright picture of 8-bit RGB. */
export interface Picture {
  readonly data: Uint8Array;
  readonly width: number;
  readonly height: number;
}

export type Rgb = readonly [red: number, green: number, blue: number];

/** A picture painted from a function of the pixel. */
export const painted = (width: number, height: number, colourAt: (x: number, y: number) => Rgb): Picture => {
  const data = new Uint8Array(width * height * 3);
  for (let y = 0; y < height; y += 1) for (let x = 0; x < width; x += 1) data.set(colourAt(x, y), (y * width + x) * 3);
  return { data, width, height };
};

/** The colour of a pixel of a picture. */
export const pixelOf = ({ data, width }: Picture, x: number, y: number): number[] => [
  ...data.subarray((y * width + x) * 3, (y * width + x) * 3 + 3),
];

/** A decoded photo with its pixels in their upright order. */
export const asSeen = ({ data, width, height, first, right, down }: Pixels): Picture =>
  painted(width, height, (x, y) => {
    const at = first + x * right + y * down;
    return [data[at]!, data[at + 1]!, data[at + 2]!];
  });

export const sharpOf = ({ data, width, height }: Picture) => sharp(data, { raw: { width, height, channels: 3 } });

/** A JPEG that keeps the pixels as well as a JPEG can. */
export const jpegOf = (picture: Picture): Promise<Buffer> =>
  sharpOf(picture).jpeg({ quality: 100, chromaSubsampling: "4:4:4" }).toBuffer();

/** A plain brown photo; by default just long enough to be taken. */
export const brownJpeg = (width = 1200, height = 900): Promise<Buffer> =>
  sharp({ create: { width, height, channels: 3, background: "#8a6a50" } })
    .jpeg()
    .toBuffer();

/** Where the first row and the first column of a stored picture lie when seen upright, for EXIF orientation 1 to 8. */
const firstRowAndColumn = ["top left", "top right", "bottom right", "bottom left"].concat([
  "left top",
  "right top",
  "right bottom",
  "left bottom",
]);

/** The picture as a camera held in one of eight ways stores it (EXIF tag 0x0112, CIPA DC-008, from memory). */
export const storedTurned = (upright: Picture, orientation: number): Picture => {
  const [row = "", column = ""] = firstRowAndColumn[orientation - 1]?.split(" ") ?? [];
  const swapped = orientation > 4;
  const [width, height] = swapped ? [upright.height, upright.width] : [upright.width, upright.height];
  const from = (side: string, along: number, length: number) =>
    side === "right" || side === "bottom" ? length - 1 - along : along;
  return painted(width, height, (c, r) => {
    const [x, y] = swapped
      ? [from(row, r, upright.width), from(column, c, upright.height)]
      : [from(column, c, upright.width), from(row, r, upright.height)];
    return pixelOf(upright, x, y) as unknown as Rgb;
  });
};

/** A PNG of the size and depth written in its header whose rows are all black; `rows` fewer leave it short. */
export const blackPng = (width: number, height: number, bits: 1 | 8 | 16, rows = height): Buffer => {
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  header.set([bits, bits === 1 ? 0 : 2], 8);
  const bytesInRow = 1 + Math.ceil((width * bits * (bits === 1 ? 1 : 3)) / 8);
  return Buffer.concat([
    Buffer.from("\x89PNG\r\n\x1a\n", "latin1"),
    pngChunk("IHDR", header),
    pngChunk("IDAT", deflateSync(Buffer.alloc(Math.min(rows * bytesInRow, 64e6)), { level: 9 })),
    pngChunk("IEND", Buffer.alloc(0)),
  ]);
};

/** A PNG with one more chunk behind its header. */
export const withPngChunk = (png: Buffer, type: string, body: Buffer): Buffer =>
  Buffer.concat([png.subarray(0, 33), pngChunk(type, body), png.subarray(33)]);

/** A JPEG with one more segment behind its start; `code` is the second byte of the marker. */
export const withJpegSegment = (jpeg: Buffer, code: number, body: Buffer): Buffer => {
  const head = Buffer.from([0xff, code, 0, 0]);
  head.writeUInt16BE(body.length + 2, 2);
  return Buffer.concat([jpeg.subarray(0, 2), head, body, jpeg.subarray(2)]);
};

/** A JPEG that says it has another size than its picture data. */
export const withJpegSize = (jpeg: Buffer, width: number, height: number): Buffer => {
  const out = Buffer.from(jpeg);
  const frame = out.indexOf(Buffer.from([0xff, 0xc0]));
  out.writeUInt16BE(height, frame + 5);
  out.writeUInt16BE(width, frame + 7);
  return out;
};

/** Writes a file into a folder that goes away with the test, and gives its path. */
export const writtenFile = async (bytes: Buffer | string, name = "photo.jpg"): Promise<string> => {
  const path = join(await temporaryFolder(), name);
  await writeFile(path, bytes);
  return path;
};
