import { readFile } from "node:fs/promises";
import ExifReader from "exifreader";
import sharp from "sharp";
import { unknownCamera } from "../contract/photo.ts";
import type { Examined } from "../site.ts";
import { encodingIn, readThrough } from "./decode.ts";
import { fileKind, jpegShape, pngEnded } from "./file-kind.ts";
import { heicEncoding, heicSize } from "./heic.ts";
import { PHOTO_LIMITS } from "./photo-limits.ts";

const refused = (status: 413 | 415 | 422, why: string): Examined => ({ kind: "refused", status, why });

const incomplete = refused(422, "The photo arrived incomplete. Send it again.");

/** "2026:03:03 10:52:10" and "+00:00" to ISO 8601; null where the camera wrote no time or no zone. */
const instantOf = (time: string | undefined, offset: string | undefined): string | null => {
  const parts = /^(\d{4}):(\d\d):(\d\d) (\d\d:\d\d:\d\d)$/.exec(time ?? "");
  return parts && /^[+-]\d\d:\d\d$/.test(offset ?? "")
    ? `${parts[1]}-${parts[2]}-${parts[3]}T${parts[4]}${offset}`
    : null;
};

const exifOf = (bytes: Buffer): { takenAt: string | null; camera: string } => {
  try {
    const tags = ExifReader.load(bytes);
    const text = (name: string) => tags[name]?.description?.trim();
    return {
      takenAt: instantOf(text("DateTimeOriginal"), text("OffsetTimeOriginal")),
      camera: [text("Make"), text("Model")].filter(Boolean).join(" ").slice(0, 120) || unknownCamera,
    };
  } catch {
    return { takenAt: null, camera: unknownCamera };
  }
};

const sizeOf = async (bytes: Buffer): Promise<{ width: number; height: number; profiled: boolean; odd: string[] }> => {
  if (fileKind(bytes) === "heic") return { ...heicSize(bytes), profiled: heicEncoding(bytes) !== null, odd: [] };
  const meta = await sharp(bytes, { limitInputPixels: false }).metadata();
  const odd = [
    meta.space === "cmyk" ? "print colours (CMYK): kept, colour not measured" : "",
    meta.channels === 1 ? "grey picture: kept, colour not measured" : "",
    meta.hasAlpha ? "see-through picture: kept, colour not measured" : "",
  ].filter(Boolean);
  return {
    width: meta.autoOrient.width,
    height: meta.autoOrient.height,
    profiled: encodingIn(bytes, meta.icc) !== null,
    odd,
  };
};

/** Looks at a file before it is kept: what it is, how large, when and by what camera it was taken; or why it is refused. */
export const examine = async (path: string): Promise<Examined> => {
  const bytes = await readFile(path);
  const kind = fileKind(bytes);
  if (bytes.length === 0) return refused(422, "The file is empty. Send the photo again.");
  if (kind === "other") return refused(415, "This is no photo we can read. Set the camera to JPEG and take it again.");
  const jpeg = kind === "jpeg" ? jpegShape(bytes) : null;
  if (jpeg && jpeg.scans > PHOTO_LIMITS.jpegScans)
    return refused(422, "This JPEG is built in an unusual way. Take the photo with the phone's own camera.");
  if (kind === "png" ? !pngEnded(bytes) : jpeg && !jpeg.ended) return incomplete;
  let size: Awaited<ReturnType<typeof sizeOf>>;
  try {
    size = await sizeOf(bytes);
  } catch {
    return kind === "heic"
      ? refused(415, "This HEIC photo cannot be opened. Set the camera to JPEG and take it again.")
      : incomplete;
  }
  const { width, height } = size;
  const longest = Math.max(width, height);
  if (width * height > PHOTO_LIMITS.pixels)
    return refused(
      413,
      `The photo has ${Math.ceil((width * height) / 1e6)} megapixels; 64 are the most. Use the camera's 12 megapixel mode.`,
    );
  if (longest > PHOTO_LIMITS.longestSidePx)
    return refused(413, `The photo is ${longest} px long; 20000 are the most. Take a plain photo, no panorama.`);
  if (longest < PHOTO_LIMITS.shortestLongSidePx)
    return refused(422, `The photo is only ${longest} px long; 1000 are the least. Send the original, not a preview.`);
  try {
    await readThrough(bytes);
  } catch {
    return incomplete;
  }
  const flags = [
    ...size.odd,
    ...(size.profiled ? [] : ["unknown colour profile: kept, colour not measured"]),
    ...(longest > PHOTO_LIMITS.longestToShortest * Math.min(width, height)
      ? ["panorama: kept, colour not measured"]
      : []),
  ];
  return { kind: "photo", width, height, ...exifOf(bytes), flags };
};
