import { readFile } from "node:fs/promises";
import { samplePath } from "../../sample-images/sample-files.ts";
import { jpegOf, painted, type Rgb, sharpOf } from "../photo-files.ts";

/** What the server should say to a picture. */
export type Expected =
  | { readonly status: 400 | 413 | 415 | 422; readonly says: RegExp }
  /** Taken in. With `flag` it is kept for this reason and not measured, else it is measured; `noted` is said beside. */
  | { readonly status: 200; readonly flag?: RegExp; readonly noted?: RegExp };

/** One file of the bar's list of bad input: the number of its row, what it is, its bytes, the answer it should get. */
export interface OddPicture {
  readonly row: number;
  readonly name: string;
  bytes(): Buffer | Promise<Buffer>;
  readonly expected: Expected;
}

export const row = (number: number, name: string, bytes: OddPicture["bytes"], expected: Expected): OddPicture => ({
  row: number,
  name,
  bytes,
  expected,
});

export const taken: Expected = { status: 200 };
export const flagged = (flag: RegExp): Expected => ({ status: 200, flag });
export const foreign: Expected = { status: 415, says: /Set the camera to JPEG/ };
export const incomplete: Expected = { status: 422, says: /incomplete. Send it again/ };
export const tooLarge: Expected = { status: 413, says: /Use the camera's 12 megapixel mode/ };

/** A picture of which every byte of its file matters. */
export const busy = painted(
  1200,
  900,
  (x, y): Rgb => [90 + ((x * 7 + y * 13) % 60), 70 + ((x * y) % 60), 50 + ((x * 3 + y) % 60)],
);
export const busyJpeg = await jpegOf(busy);
export const busyPng = await sharpOf(busy).png({ compressionLevel: 2 }).toBuffer();
export const progressive = await sharpOf(busy).jpeg({ progressive: true }).toBuffer();
export const sampleHeic = (): Promise<Buffer> => readFile(samplePath("good/s04-b.heic"));
