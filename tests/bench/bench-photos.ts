/** The photos that speed is measured on: one of the demo, made as heavy as a phone's by noise. */
import { mkdtemp, readFile, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import sharp, { type Sharp } from "sharp";
import { normalFrom } from "../../analysis/algebra/seeded-random.ts";
import { fitHomography, project } from "../../analysis/homography.ts";
import { type Pixels, type Point, turnedPixels } from "../../analysis/pixels.ts";
import { cardCodeMm, cardCodesMm, cornersMm, printedCard } from "../../analysis/reference-card.ts";
import type { MeasureRequest } from "../../server/workers/measurement.ts";
import { samplePath } from "../sample-images/sample-files.ts";
import { demoPhoto, demoRequest } from "../server/workers/demo-photos.ts";
import { withJpegSegment } from "../support/photo-files.ts";

/** The demo's only photo of 12 megapixels: a leaf with a printed card, the phone held on its side. */
const sample = demoPhoto("good/w04-b.jpg");
const orientation = 6;

/** Noise of a phone in a room, codes, and quality (from memory): the file has 2.3 MB, a little less than phones write. */
const noiseCodes = 4;
const quality = 93;

/** A photo of the benchmark, and what a user says of it: the leaf and the card. */
export interface BenchPhoto {
  readonly bytes: Buffer;
  readonly request: MeasureRequest;
}

const folder = await mkdtemp(join(tmpdir(), "speed-"));

const photoOf = async (name: string, bytes: Buffer): Promise<BenchPhoto> => {
  const path = join(folder, name);
  await writeFile(path, bytes);
  return { bytes, request: { ...demoRequest(sample), path, references: ["card"] } };
};

/** The picture as a phone would write it: on its side, with noise. `paint` may change the picture first. */
const asTaken = async (picture: Sharp, paint: (pixels: Pixels) => void = () => undefined): Promise<Buffer> => {
  const { data, info } = await picture.raw().toBuffer({ resolveWithObject: true });
  paint(turnedPixels(data, info.width, info.height, orientation, "srgb"));
  const normal = normalFrom(12);
  // A table, its length a prime number: drawing 36 million values would take longer than the benchmark.
  const noise = Float32Array.from({ length: 99_991 }, () => noiseCodes * normal());
  const noisy = new Uint8ClampedArray(data);
  for (let i = 0; i < noisy.length; i += 1) noisy[i] = data[i]! + noise[i % noise.length]!;
  return sharp(noisy, { raw: { width: info.width, height: info.height, channels: 3 } })
    .withMetadata({ orientation })
    .jpeg({ quality })
    .toBuffer();
};

/** Paper over one code of the card, so that half size is not enough and the photo is read at full size too. */
const paperOverOneCode = ({ data, first, right, down }: Pixels): void => {
  const card = sample.references.find(({ kind }) => kind === "card")?.corners_px as readonly Point[] | undefined;
  const toPhoto = card && fitHomography(cornersMm(printedCard.widthMm, printedCard.heightMm), card);
  if (!toPhoto) throw new Error("the photo shows no card");
  const [left, top] = cardCodesMm[0];
  const corners = cornersMm(cardCodeMm, cardCodeMm).map(([x, y]) => project(toPhoto, [left + x, top + y]));
  const [xs, ys] = [corners.map(([x]) => x), corners.map(([, y]) => y)];
  for (let y = Math.floor(Math.min(...ys)); y < Math.max(...ys); y++)
    for (let x = Math.floor(Math.min(...xs)); x < Math.max(...xs); x++)
      for (let c = 0; c < 3; c++) data[first + y * down + x * right + c] = 215;
};

/** The same JPEG with the profile of Display P3 in it. */
const withP3 = async (jpeg: Buffer): Promise<Buffer> => {
  const small = sharp({ create: { width: 8, height: 8, channels: 3, background: "#888" } });
  const { icc } = await sharp(await small.withIccProfile("p3").png().toBuffer()).metadata();
  if (!icc) throw new Error("sharp gave no Display P3 profile");
  return withJpegSegment(jpeg, 0xe2, Buffer.concat([Buffer.from("ICC_PROFILE\0\x01\x01", "latin1"), icc]));
};

/** Makes the photos, which takes some seconds; `folder` holds them. */
export const makeBenchPhotos = async () => {
  const stored = (): Sharp => sharp(samplePath(sample.file), { ignoreIcc: true });
  const plain = await asTaken(stored());
  return {
    folder,
    sample: await photoOf("sample.jpg", await readFile(samplePath(sample.file))),
    plain: await photoOf("plain.jpg", plain),
    p3: await photoOf("p3.jpg", await withP3(plain)),
    codeHidden: await photoOf("code-hidden.jpg", await asTaken(stored(), paperOverOneCode)),
    large: await photoOf("large.jpg", await asTaken(stored().resize(2 * 4032))),
  };
};
