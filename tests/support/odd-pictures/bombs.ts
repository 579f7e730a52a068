import { blackPng, brownJpeg, withJpegSize } from "../photo-files.ts";
import { fillingSegments, jpegSegment, withSegments } from "./jpeg-parts.ts";
import { manyScans } from "./many-scans.ts";
import {
  busyJpeg,
  busyPng,
  flagged,
  foreign,
  incomplete,
  type OddPicture,
  row,
  taken,
  tooLarge,
} from "./odd-picture.ts";
import { packedText, plainTexts, pngChunk, pngProfile, withPngChunks } from "./png-parts.ts";

const tooSmall = { status: 422, says: /Send the original, not a preview/ } as const;
const unusual = { status: 422, says: /phone's own camera/ } as const;
const tooLong = { status: 413, says: /Take a plain photo, no panorama/ } as const;

const repeated = (part: Buffer, times: number): Buffer => Buffer.concat(Array<Buffer>(times).fill(part));

/** A JPEG of 8,000 x 8,000 by its head, of which 700 bytes came. */
const nearlyNothing = (): Buffer =>
  Buffer.concat([withJpegSize(busyJpeg, 8000, 8000).subarray(0, 698), Buffer.from([0xff, 0xd9])]);

/** Rows 1 to 15, 56 and 57: too little, too much, or little that unfolds to much. */
export const bombs: readonly OddPicture[] = [
  row(1, "no bytes", () => Buffer.alloc(0), { status: 400, says: /Send the photo again/ }),
  row(2, "one byte", () => Buffer.from([0xff]), foreign),
  row(3, "start and end of a JPEG", () => Buffer.from([0xff, 0xd8, 0xff, 0xd9]), incomplete),
  row(4, "a JPEG of one pixel", () => brownJpeg(1, 1), tooSmall),
  row(4, "a PNG of one pixel", () => blackPng(1, 1, 8), tooSmall),
  row(5, "a PNG of 65,000 x 65,000 bits", () => blackPng(65_000, 65_000, 1, 10), tooLarge),
  row(6, "a PNG of 16,000 x 16,000", () => blackPng(16_000, 16_000, 8, 10), tooLarge),
  row(7, "a 16-bit PNG of 10,000 x 10,000", () => blackPng(10_000, 10_000, 16, 10), tooLarge),
  row(8, "a PNG of 2^31 - 1 squared", () => blackPng(2 ** 31 - 1, 2 ** 31 - 1, 8, 0), incomplete),
  row(9, "a JPEG said to be 65,500 squared", () => withJpegSize(busyJpeg, 65_500, 65_500), tooLarge),
  row(10, "700 bytes of a JPEG of 8,000 squared", nearlyNothing, incomplete),
  row(11, "a legal JPEG of 2,080 scans", () => manyScans(4000, 3000), unusual),
  row(11, "a legal JPEG of 100 scans", () => manyScans(1200, 900, 100), taken),
  row(11, "a progressive JPEG of 64 megapixels that holds every colour", () => manyScans(8000, 8000, 2), tooLarge),
  row(
    12,
    "a PNG whose profile unfolds to 200 MB",
    () => withPngChunks(busyPng, pngProfile(Buffer.alloc(200e6))),
    flagged(/colour profile/),
  ),
  row(13, "a PNG whose text unfolds to 200 MB", () => withPngChunks(busyPng, packedText(200e6)), taken),
  row(14, "a PNG of 20,000 texts", () => withPngChunks(busyPng, ...plainTexts(20_000)), taken),
  row(
    14,
    "a PNG of a million empty texts",
    () => withPngChunks(busyPng, repeated(pngChunk("tEXt", Buffer.from("a\0")), 1e6)),
    unusual,
  ),
  row(
    15,
    "a million empty segments",
    () => withSegments(busyJpeg, repeated(jpegSegment(0xe1, Buffer.alloc(0)), 1e6)),
    unusual,
  ),
  row(15, "20 MB of comments", () => withSegments(busyJpeg, ...fillingSegments(0xfe, 20e6)), taken),
  row(15, "20 MB of what programs write", () => withSegments(busyJpeg, ...fillingSegments(0xe1, 20e6)), taken),
  row(56, "a PNG 65,000 px long and one high", () => blackPng(65_000, 1, 8), tooLong),
  row(56, "a JPEG 65,000 px long and one high", () => brownJpeg(65_000, 1), tooLong),
  row(57, "48 megapixels", () => brownJpeg(8000, 6000), taken),
  row(57, "50 megapixels", () => brownJpeg(8160, 6144), taken),
  row(57, "108 megapixels", () => withJpegSize(busyJpeg, 12_000, 9000), tooLarge),
  row(57, "200 megapixels", () => withJpegSize(busyJpeg, 16_320, 12_240), tooLarge),
  row(
    57,
    "108 megapixels as a phone writes them",
    () => withSegments(withJpegSize(busyJpeg, 9000, 12_000), jpegSegment(0xfe, Buffer.from("x"))),
    tooLarge,
  ),
];
