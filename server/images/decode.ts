import { readFile } from "node:fs/promises";
import sharp, { type Sharp } from "sharp";
import { type Encoding, type Pixels, turnedPixels, uprightPixels } from "../../analysis/pixels.ts";
import { fileKind, pngHasProfile } from "./file-kind.ts";
import { decodeHeic, heicEncoding } from "./heic.ts";
import { encodingOf } from "./icc.ts";
import { PHOTO_LIMITS } from "./photo-limits.ts";
import { picturedInSrgb } from "./srgb-codes.ts";

sharp.cache(false);
sharp.concurrency(1);
sharp.block({ operation: ["VipsForeignLoad"] });
sharp.unblock({ operation: ["VipsForeignLoadJpeg", "VipsForeignLoadPng"] });

/** A JPEG or PNG opened for reading code values as they are: no profile applied, not turned, refused when damaged. */
export const openPhoto = (bytes: Buffer): Sharp =>
  sharp(bytes, { failOn: "warning", limitInputPixels: PHOTO_LIMITS.pixels, ignoreIcc: true }).timeout({ seconds: 10 });

const rgb = (photo: Sharp): Sharp => photo.removeAlpha().toColourspace("srgb");

/** Colour space of a JPEG or PNG with this profile: null when it is not one of ours, or was dropped as damaged. */
export const encodingIn = (bytes: Buffer, icc: Buffer | undefined): Encoding | null =>
  !icc && fileKind(bytes) === "png" && pngHasProfile(bytes) ? null : encodingOf(icc);

/**
 * Decodes a photo to 8-bit code values. It is not turned upright, which would cost nearly as much again, but says how it
 * lies. The profile is not applied but named by `encoding`; a photo whose profile is unknown has encoding null and must
 * not be measured. Throws when the file is damaged.
 */
export const decode = async (path: string): Promise<{ pixels: Pixels; encoding: Encoding | null }> => {
  const bytes = await readFile(path);
  if (fileKind(bytes) === "heic") {
    const encoding = heicEncoding(bytes);
    const { data, width, height } = await decodeHeic(bytes);
    return { pixels: uprightPixels(data, width, height, encoding ?? "srgb"), encoding };
  }
  const { icc, orientation = 1 } = await sharp(bytes, { limitInputPixels: PHOTO_LIMITS.pixels }).metadata();
  const encoding = encodingIn(bytes, icc);
  const { data, info } = await rgb(openPhoto(bytes)).raw().toBuffer({ resolveWithObject: true });
  return { pixels: turnedPixels(data, info.width, info.height, orientation, encoding ?? "srgb"), encoding };
};

/** Whether every byte of picture data can be read, at the cost of the entropy decoding alone. Throws when not. */
export const readThrough = async (bytes: Buffer): Promise<void> => {
  if (fileKind(bytes) === "heic") await decodeHeic(bytes);
  else await openPhoto(bytes).resize(64).raw().toBuffer();
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
    const whole = ofRaw(await decodeHeic(bytes)).resize(fit);
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
