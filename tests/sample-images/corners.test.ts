import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { type PhotoTruth, readTruth, samplePath } from "./sample-files.ts";

const truth = await readTruth();
const judged = truth.photos.filter(({ kind }) => kind === "single" || kind === "line-up");

interface Upright {
  readonly data: ArrayLike<number>;
  readonly width: number;
  readonly channels: number;
}

interface HeicPicture {
  readonly get_width: () => number;
  readonly get_height: () => number;
  readonly display: (image: { data: Uint8ClampedArray; width: number; height: number }, done: () => void) => void;
}

const heic = async (file: string): Promise<Upright> => {
  const { HeifDecoder } = createRequire(import.meta.url)("libheif-js/wasm-bundle") as {
    readonly HeifDecoder: new () => { readonly decode: (bytes: Uint8Array) => readonly HeicPicture[] };
  };
  const [picture] = new HeifDecoder().decode(await readFile(samplePath(file)));
  if (!picture) throw new Error(`${file} holds no picture`);
  const [width, height] = [picture.get_width(), picture.get_height()];
  const data = new Uint8ClampedArray(width * height * 4);
  await new Promise<void>((done) => {
    picture.display({ data, width, height }, done);
  });
  return { data, width, channels: 4 };
};

const upright = async ({ file }: PhotoTruth): Promise<Upright> => {
  if (file.endsWith(".heic")) return heic(file);
  const { data, info } = await sharp(samplePath(file), { ignoreIcc: true })
    .autoOrient()
    .raw()
    .toBuffer({ resolveWithObject: true });
  return { data, width: info.width, channels: 3 };
};

const meanRound = ({ data, width, channels }: Upright, x: number, y: number): readonly number[] => {
  const sum = [0, 0, 0];
  for (let dy = -2; dy <= 2; dy++)
    for (let dx = -2; dx <= 2; dx++)
      for (let k = 0; k < 3; k++)
        sum[k]! += data[((Math.floor(y) + dy) * width + Math.floor(x) + dx) * channels + k]! / 25;
  return sum;
};

/** Median of how much the codes change across an edge of a leaf, 5 px inside against 5 px outside, over 21 points. */
const stepAcross = (photo: Upright, from: readonly [number, number], to: readonly [number, number]): number => {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const inwards = [-(to[1] - from[1]) / length, (to[0] - from[0]) / length] as const;
  const steps = Array.from({ length: 21 }, (_, i) => {
    const t = 0.1 + (0.8 * i) / 20;
    const x = from[0] + t * (to[0] - from[0]);
    const y = from[1] + t * (to[1] - from[1]);
    const inner = meanRound(photo, x + 5 * inwards[0], y + 5 * inwards[1]);
    const outer = meanRound(photo, x - 5 * inwards[0], y - 5 * inwards[1]);
    return Math.max(...inner.map((v, k) => Math.abs(v - (outer[k] ?? 0))));
  });
  return steps.toSorted((a, b) => a - b)[10] ?? 0;
};

describe("the corners in the truth", () => {
  it.each(judged.map((photo) => [photo.file, photo] as const))(
    "lie on the edges of the leaves in %s",
    async (_, photo) => {
      const picture = await upright(photo);
      for (const { leaf, corners_px } of photo.leaves) {
        expect(corners_px).not.toBeNull();
        corners_px?.forEach((from, i) => {
          const to = corners_px[(i + 1) % 4] ?? from;
          expect(stepAcross(picture, from, to), `${leaf}, edge ${i}`).toBeGreaterThan(6);
        });
      }
    },
  );
});
