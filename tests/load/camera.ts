import { randomBytes } from "node:crypto";
import { join } from "node:path";
import sharp from "sharp";
import { withJpegSegment } from "../support/photo-files.ts";

const samples = join(import.meta.dirname, "../../sample-images/good");
const shots = ["w01-a", "w01-b", "w02-a", "w02-b", "w03-a"];

/** The noise of a sensor. */
const noiseOf = (width: number, height: number): Promise<Buffer> =>
  sharp({
    create: { width, height, channels: 3, background: "#808080", noise: { type: "gaussian", mean: 128, sigma: 14 } },
  })
    .png({ compressionLevel: 0 })
    .toBuffer();

/**
 * A camera whose photos are rendered leaves at full size with the noise of a sensor, 4 MB at 12 megapixels. All have bytes of their
 * own: a comment tells them apart.
 */
export const camera = async (megapixels: number, films = shots.length): Promise<() => Buffer> => {
  const height = Math.round(Math.sqrt((megapixels * 1e6 * 4) / 3));
  const width = Math.round((height * 3) / 4);
  const input = await noiseOf(width, height);
  const taken: Buffer[] = [];
  for (const name of shots.slice(0, films)) {
    const leaf = sharp(join(samples, `${name}.jpg`))
      .autoOrient()
      .resize(width, height, { fit: "fill" });
    taken.push(
      await leaf
        .composite([{ input, blend: "soft-light" }])
        .jpeg({ quality: 95 })
        .toBuffer(),
    );
  }
  let next = 0;
  return () => withJpegSegment(taken[next++ % taken.length] as Buffer, 0xfe, randomBytes(32));
};
