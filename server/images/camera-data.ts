import ExifReader from "exifreader";
import { instant } from "../contract/ids.ts";
import { unknownCamera } from "../contract/photo.ts";
import { PHOTO_LIMITS } from "./photo-limits.ts";

/** What the camera wrote beside the picture, as far as we ask. */
export interface CameraData {
  /** ISO 8601 with its zone; null where the camera wrote no time, no zone, or none that exists. */
  readonly takenAt: string | null;
  readonly camera: string;
  /** EXIF orientation as written, 1 to 8 where it is one; null where none is. */
  readonly orientation: number | null;
}

const WANTED = ["DateTimeOriginal", "OffsetTimeOriginal", "Make", "Model", "Orientation"];

/** "2026:03:03 10:52:10" and "+00:00" to ISO 8601. */
const instantOf = (time: string, offset: string): string | null => {
  const parts = /^(\d{4}):(\d\d):(\d\d) (\d\d:\d\d:\d\d)$/.exec(time);
  const taken = parts && `${parts[1]}-${parts[2]}-${parts[3]}T${parts[4]}${offset}`;
  return taken && instant.safeParse(taken).success ? taken : null;
};

/** On one line, without what no screen shows: the journal takes no control characters, and a camera may write any. */
const plainLine = (text: string): string =>
  text
    .replace(/[\p{C}\s]+/gu, " ")
    .trim()
    .slice(0, PHOTO_LIMITS.cameraLetters)
    .replace(/\p{Cs}$/u, "");

/** Reads the time, the camera and how it was held. Nothing else of what a camera writes is read, and nothing is guessed. */
export const cameraData = (bytes: Buffer): CameraData => {
  try {
    const tags = ExifReader.load(bytes, { includeTags: { exif: WANTED } });
    const text = (name: string): string => plainLine(String(tags[name]?.description ?? ""));
    const orientation: unknown = tags.Orientation?.value;
    return {
      takenAt: instantOf(text("DateTimeOriginal"), text("OffsetTimeOriginal")),
      camera: plainLine(`${text("Make")} ${text("Model")}`) || unknownCamera,
      orientation: typeof orientation === "number" ? orientation : null,
    };
  } catch {
    return { takenAt: null, camera: unknownCamera, orientation: null };
  }
};
