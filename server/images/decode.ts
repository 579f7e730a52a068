import { readFile } from "node:fs/promises";
import sharp, { type Sharp } from "sharp";
import { type Encoding, type Pixels, turnedPixels, uprightPixels } from "../../analysis/pixels.ts";
import { fileKind, pngShape } from "./file-kind.ts";
import { decodeHeic, heicEncoding } from "./heic.ts";
import { encodingOf } from "./icc.ts";
import { PHOTO_LIMITS } from "./photo-limits.ts";
import { picturedInSrgb } from "./srgb-codes.ts";

sharp.cache(false);
sharp.concurrency(1);
sharp.block({ operation: ["VipsForeignLoad"] });
sharp.unblock({ operation: ["VipsForeignLoadJpeg", "VipsForeignLoadPng"] });

/** A JPEG or PNG opened for reading code values as they are: no profile applied, not turned, refused when damaged. */
export const openPhoto = (bytes: Buffer, failOn: "warning" | "truncated" = "warning"): Sharp =>
  sharp(bytes, { failOn, limitInputPixels: PHOTO_LIMITS.pixels, ignoreIcc: true }).timeout({
    seconds: PHOTO_LIMITS.decodeSeconds,
  });

/** What a few phones write wrongly into the head of every photo, though the picture is whole; in libjpeg's words. */
const oddHead =
  /^(VipsJpeg: (Invalid SOS parameters for sequential JPEG|Warning: unknown JFIF revision number \d+\.\d+)\s*)+$/;

/**
 * What `take` reads of a photo, and whether its head is odd. The decoder tells its first complaint only and the number of
 * all: an odd head is forgiven when it is the only one, everything else throws.
 */
const readStrictly = async <T>(
  bytes: Buffer,
  take: (photo: Sharp) => Promise<T>,
): Promise<{ taken: T; oddHead: boolean }> => {
  try {
    return { taken: await take(openPhoto(bytes)), oddHead: false };
  } catch (error) {
    if (!(error instanceof Error && oddHead.test(error.message))) throw error;
    let complaints = 0;
    const photo = openPhoto(bytes, "truncated").on("warning", (text: string) => {
      complaints = Math.max(complaints, Number(/^read gave (\d+) warnings/.exec(text)?.[1] ?? 0));
    });
    const taken = await take(photo);
    if (complaints !== 1) throw error;
    return { taken, oddHead: true };
  }
};

const rgb = (photo: Sharp): Sharp => photo.removeAlpha().toColourspace("srgb");

/** Colour space of a JPEG or PNG with this profile: null when it is not one of ours, or was dropped as damaged. */
export const encodingIn = (bytes: Buffer, icc: Buffer | undefined): Encoding | null => {
  if (fileKind(bytes) !== "png") return encodingOf(icc);
  const { profiled, otherColours } = pngShape(bytes);
  return otherColours || (profiled && !icc) ? null : encodingOf(icc);
};

/**
 * Decodes a photo to 8-bit code values. It is not turned upright, which would cost nearly as much again, but says how it
 * lies. The profile is not applied but named by `encoding`; a photo whose profile is unknown has encoding null and must
 * not be measured. Throws when the file is damaged.
 */
export const decode = async (path: string): Promise<{ pixels: Pixels; encoding: Encoding | null }> => {
  const bytes = await readFile(path);
  if (fileKind(bytes) === "heic") {
    const encoding = heicEncoding(bytes);
    const { data, width, height } = decodeHeic(bytes);
    return { pixels: uprightPixels(data, width, height, encoding ?? "srgb"), encoding };
  }
  const { icc, orientation = 1 } = await sharp(bytes, { limitInputPixels: PHOTO_LIMITS.pixels }).metadata();
  const encoding = encodingIn(bytes, icc);
  const { taken } = await readStrictly(bytes, (photo) => rgb(photo).raw().toBuffer({ resolveWithObject: true }));
  const { data, info } = taken;
  return { pixels: turnedPixels(data, info.width, info.height, orientation, encoding ?? "srgb"), encoding };
};

/** Whether every byte of picture data can be read, at the cost of the entropy decoding alone. Throws when not. */
export const readThrough = async (bytes: Buffer): Promise<{ oddHead: boolean }> => {
  if (fileKind(bytes) !== "heic") return readStrictly(bytes, (photo) => photo.resize(64).raw().toBuffer());
  decodeHeic(bytes);
  return { oddHead: false };
};

interface Picture {
  readonly data: Uint8Array;
  readonly width: number;
  readonly height: number;
}

const ofRaw = ({ data, width, height }: Picture): Sharp => sharp(data, { raw: { width, height, channels: 3 } });

/** Code values in sRGB to a JPEG without any metadata but that profile. */
export const toJpeg = (picture: Picture, quality: number): Promise<Buffer> =>
  ofRaw(picture).withIccProfile("srgb").jpeg({ quality, chromaSubsampling: "4:4:4" }).toBuffer();

/** A smaller upright copy, converted to sRGB, encoded again, without metadata. `quality` is JPEG's. */
export const preview = async (path: string, longestPx: number, quality = 82): Promise<Buffer> => {
  const bytes = await readFile(path);
  const fit = { width: longestPx, height: longestPx, fit: "inside", withoutEnlargement: true } as const;
  if (fileKind(bytes) === "heic") {
    const whole = ofRaw(decodeHeic(bytes)).resize(fit);
    const { data, info } = await whole.raw().toBuffer({ resolveWithObject: true });
    const small = { data: picturedInSrgb({ data, encoding: heicEncoding(bytes) ?? "srgb" }), width: info.width };
    return ofRaw({ ...small, height: info.height })
      .jpeg({ quality })
      .toBuffer();
  }
  return sharp(bytes, { failOn: "none", limitInputPixels: PHOTO_LIMITS.pixels, autoOrient: true })
    .resize(fit)
    .removeAlpha()
    .jpeg({ quality })
    .toBuffer();
};
