import { jfif, withOddScanHeader, withSegments } from "./jpeg-parts.ts";
import { busyJpeg, busyPng, flagged, incomplete, type OddPicture, progressive, row, taken } from "./odd-picture.ts";

/** How much of a file came, as rows 31 to 34 have it. */
const cuts: readonly (readonly [number, string, (length: number) => number])[] = [
  [31, "after 1 %", (length) => Math.floor(length * 0.01)],
  [32, "in the middle", (length) => length >> 1],
  [33, "after 99 %", (length) => Math.floor(length * 0.99)],
  [34, "two bytes short", (length) => length - 2],
];

const cut = (whole: Buffer, length: (bytes: number) => number) => () => whole.subarray(0, length(whole.length));

/** A piece in the middle is gone, the end is there. */
const holed = (whole: Buffer) => () =>
  Buffer.concat([whole.subarray(0, whole.length >> 1), whole.subarray(Math.floor(whole.length * 0.7))]);

const oddHead = flagged(/oddly written JPEG/);

/** Rows 31 to 39: what broke on the way, and what a phone writes oddly. */
export const damaged: readonly OddPicture[] = [
  ...cuts.flatMap(([number, where, length]) => [
    row(number, `a JPEG cut ${where}`, cut(busyJpeg, length), incomplete),
    row(number, `a progressive JPEG cut ${where}`, cut(progressive, length), incomplete),
    row(35, `a PNG cut ${where}`, cut(busyPng, length), incomplete),
  ]),
  row(33, "a JPEG with a hole", holed(busyJpeg), incomplete),
  row(35, "a PNG with a hole", holed(busyPng), incomplete),
  row(38, "5 kB of junk after a JPEG", () => Buffer.concat([busyJpeg, Buffer.alloc(5000, 0x5a)]), taken),
  row(38, "5 kB of junk after a PNG", () => Buffer.concat([busyPng, Buffer.alloc(5000, 0x5a)]), taken),
  row(39, "a scan whose head is odd", () => withOddScanHeader(busyJpeg), oddHead),
  row(39, "a revision that nobody knows", () => withSegments(busyJpeg, jfif(3)), oddHead),
  row(39, "an odd head, and a hole", () => withSegments(holed(busyJpeg)(), jfif(3)), incomplete),
];
