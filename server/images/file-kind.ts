/** What a file is by its first bytes; its name and the type sent with it are not asked. */
export type FileKind = "jpeg" | "png" | "heic" | "other";

const HEIC_BRANDS = new Set(["heic", "heix", "hevc", "hevx", "mif1", "msf1"]);

export const fileKind = (bytes: Buffer): FileKind => {
  if (bytes.length >= 3 && bytes.readUIntBE(0, 3) === 0xffd8ff) return "jpeg";
  if (bytes.length >= 8 && bytes.toString("latin1", 0, 8) === "\x89PNG\r\n\x1a\n") return "png";
  if (
    bytes.length >= 12 &&
    bytes.toString("latin1", 4, 8) === "ftyp" &&
    HEIC_BRANDS.has(bytes.toString("latin1", 8, 12))
  )
    return "heic";
  return "other";
};

const START_OF_SCAN = 0xda;
const END_OF_IMAGE = 0xd9;

/** Whether a byte after 0xff begins a segment: stuffing, fill bytes, restarts and the start of the image have none. */
const hasSegment = (code: number): boolean => code > 0x01 && code < 0xff && !(code >= 0xd0 && code <= 0xd8);

/** What a walk over a JPEG's segments tells: how many scans it has, and whether the end of the image is there. */
export interface JpegShape {
  readonly scans: number;
  readonly ended: boolean;
}

/**
 * Counts the start-of-scan markers up to the end of the image. Segments are stepped over by their length, since text, a
 * thumbnail or a film after the picture may hold the same two bytes. Markers: ITU-T T.81, B.1 (from memory).
 */
export const jpegShape = (bytes: Buffer): JpegShape => {
  let scans = 0;
  for (let at = bytes.indexOf(0xff, 2); at >= 0 && at + 1 < bytes.length; ) {
    const code = bytes.readUInt8(at + 1);
    if (code === END_OF_IMAGE) return { scans, ended: true };
    if (code === START_OF_SCAN) scans += 1;
    const length = hasSegment(code) && at + 3 < bytes.length ? bytes.readUInt16BE(at + 2) : 0;
    at = bytes.indexOf(0xff, at + (code === 0xff ? 1 : 2) + length);
  }
  return { scans, ended: false };
};

/** Whether a PNG has its last chunk. */
export const pngEnded = (bytes: Buffer): boolean => {
  const at = bytes.lastIndexOf("IEND", undefined, "latin1");
  return at >= 0 && at + 8 <= bytes.length;
};

/** Whether a PNG names a colour profile. A damaged one is dropped in decoding as if it had never been there. */
export const pngHasProfile = (bytes: Buffer): boolean => {
  const at = bytes.indexOf("iCCP", 0, "latin1");
  return at >= 0 && at < bytes.indexOf("IDAT", 0, "latin1");
};
