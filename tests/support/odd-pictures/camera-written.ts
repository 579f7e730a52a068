import { brownJpeg, sharpOf, storedTurned } from "../photo-files.ts";
import { type ExifContent, exifBlock, exifHead, TAG } from "./exif-block.ts";
import { jpegSegment, withSegments, xmpSegment } from "./jpeg-parts.ts";
import { busy, busyJpeg, busyPng, flagged, type OddPicture, row, taken } from "./odd-picture.ts";
import { pngChunk, withPngChunks } from "./png-parts.ts";

const exifSegment = (content: ExifContent): Buffer => jpegSegment(0xe1, Buffer.concat([exifHead, exifBlock(content)]));

const heldAs = (jpeg: Buffer, orientation: number): Buffer =>
  withSegments(jpeg, exifSegment({ main: { [TAG.orientation]: { short: orientation } } }));

/** What nobody but us may find in a photo; none of it may stand in a picture that goes out. */
export const SECRETS = ["SERIAL-4711", "LENS-0815", "Odalys Quarrington", "Tarn Hollow 7", "THUMBNAIL-INSIDE"] as const;
const [body, lens, owner, address, thumbnail] = SECRETS;

const tellsAll: ExifContent = {
  main: { [TAG.make]: "Tarnside", [TAG.model]: "T4", [TAG.artist]: owner, [TAG.copyright]: address },
  shot: {
    [TAG.taken]: "2026:03:03 10:52:10",
    [TAG.takenZone]: "+00:00",
    [TAG.owner]: owner,
    [TAG.bodySerial]: body,
    [TAG.lensSerial]: lens,
  },
  place: {
    [TAG.latitudeHalf]: "N",
    [TAG.latitude]: { fractions: [54, 12, 7.5] },
    [TAG.longitudeHalf]: "W",
    [TAG.longitude]: { fractions: [2, 40, 1.25] },
  },
  thumbnail: Buffer.from(thumbnail),
};

/** A JPEG that tells where, with which camera and by whom it was taken, in three ways. */
export const tellingJpeg = (jpeg: Buffer = busyJpeg): Buffer =>
  withSegments(
    jpeg,
    exifSegment(tellsAll),
    xmpSegment(`<rdf:Description aux:SerialNumber="${body}" aux:OwnerName="${owner}" exif:GPSLatitude="54,12.125N"/>`),
    jpegSegment(0xfe, Buffer.from(address)),
  );

/** The same of a PNG: its EXIF chunk, and plain texts. */
export const tellingPng = (): Buffer =>
  withPngChunks(busyPng, pngChunk("eXIf", exifBlock(tellsAll)), pngChunk("tEXt", Buffer.from(`Author\0${owner}`)));

const strangeNames: ExifContent = {
  main: { [TAG.make]: "\u0001\u001b[31mTarn\r\nside", [TAG.model]: "x".repeat(5000) },
  shot: { [TAG.taken]: "2026:99:99 10:52:10", [TAG.takenZone]: "+00:00" },
};

const junk = Buffer.concat([exifHead, Buffer.alloc(60_000, 0xa5)]);

/** Rows 51 to 55: what a camera writes beside the picture. */
export const cameraWritten: readonly OddPicture[] = [
  ...[1, 2, 3, 4, 5, 6, 7, 8].map((orientation) =>
    row(
      51,
      `way up ${orientation}`,
      async () => heldAs(await sharpOf(storedTurned(busy, orientation)).jpeg().toBuffer(), orientation),
      taken,
    ),
  ),
  ...[0, 9, 255].map((orientation) =>
    row(52, `way up ${orientation}`, () => heldAs(busyJpeg, orientation), flagged(/way up/)),
  ),
  row(53, "60 kB of junk for EXIF", () => withSegments(busyJpeg, jpegSegment(0xe1, junk)), taken),
  row(53, "names and times that are none", () => withSegments(busyJpeg, exifSegment(strangeNames)), taken),
  row(54, "a JPEG that tells all", () => tellingJpeg(), taken),
  row(54, "a PNG that tells all", tellingPng, taken),
  row(55, "a panorama", () => brownJpeg(3100, 1000), flagged(/panorama/)),
];
