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

/** What a walk over a JPEG's segments tells: how many scans it has, where the first begins, and whether the end of the image is there. */
export interface JpegShape {
  readonly scans: number;
  /** Segments in all, those of scans included. */
  readonly parts: number;
  /** Bytes before the first scan: all that the camera wrote about the picture. */
  readonly headBytes: number;
  /** Bytes of coefficients that a decoder holds at once: all of them where the picture comes in several scans, else next to none. */
  readonly heldBytes: number;
  readonly ended: boolean;
}

/** A frame header: those of Huffman and arithmetic coding, plain and progressive, but no table (C4, C8, CC). */
const isFrame = (code: number): boolean => code >= 0xc0 && code <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(code);

/** Coefficients of the whole picture, two bytes each, from a frame header: size, then sampling factors of each component. */
const coefficientBytes = (frame: Buffer): number => {
  if (frame.length < 10) return 0;
  const samplings = Array.from({ length: frame.readUInt8(9) }, (_, i) => frame[11 + 3 * i] ?? 0);
  const [across, down] = [4, 0].map((shift) => Math.max(1, ...samplings.map((one) => (one >> shift) & 15))) as [
    number,
    number,
  ];
  const perPixel = samplings.reduce((sum, one) => sum + ((one >> 4) * (one & 15)) / (across * down), 0);
  return 2 * frame.readUInt16BE(5) * frame.readUInt16BE(7) * perPixel;
};

/**
 * Counts the start-of-scan markers up to the end of the image. Segments are stepped over by their length, since text, a
 * thumbnail or a film after the picture may hold the same two bytes. Markers: ITU-T T.81, B.1 (from memory).
 */
export const jpegShape = (bytes: Buffer): JpegShape => {
  let scans = 0;
  let parts = 0;
  let headBytes = bytes.length;
  let coefficients = 0;
  const shape = (ended: boolean): JpegShape => ({
    scans,
    parts,
    headBytes,
    heldBytes: scans > 1 ? coefficients : 0,
    ended,
  });
  for (let at = bytes.indexOf(0xff, 2); at >= 0 && at + 1 < bytes.length; ) {
    const code = bytes.readUInt8(at + 1);
    if (code === END_OF_IMAGE) return shape(true);
    if (isFrame(code)) coefficients = coefficientBytes(bytes.subarray(at));
    if (code === START_OF_SCAN) {
      if (scans === 0) headBytes = at;
      scans += 1;
    }
    if (hasSegment(code)) parts += 1;
    const length = hasSegment(code) && at + 3 < bytes.length ? bytes.readUInt16BE(at + 2) : 0;
    at = bytes.indexOf(0xff, at + (code === 0xff ? 1 : 2) + length);
  }
  return shape(false);
};

/** What a walk over a PNG's chunks tells. */
export interface PngShape {
  /** Chunks before the picture data. */
  readonly parts: number;
  /** Names a colour profile. A damaged one is dropped in decoding as if it had never been there. */
  readonly profiled: boolean;
  /** Says by other means than a profile that its codes are not those of sRGB: another power, or a named space (gAMA, cICP). */
  readonly otherColours: boolean;
  readonly ended: boolean;
}

/** The power by which sRGB is named in a gAMA chunk, times 100,000, and how far a rounded one may lie from it. */
const SRGB_POWER = 45_455;
const POWER_SLACK = 1000;

/** In a cICP chunk: primaries of BT.709 and the curve of sRGB (ITU-T H.273, codes 1 and 13, from memory). */
const isSrgbCode = (body: Buffer): boolean => body[0] === 1 && body[1] === 13;

/** Walks the chunks before the picture; the end is looked for from behind, since picture data need not be walked. */
export const pngShape = (bytes: Buffer): PngShape => {
  const end = bytes.lastIndexOf("IEND", undefined, "latin1");
  const ended = end >= 0 && end + 8 <= bytes.length;
  let parts = 0;
  let [profiled, standard, otherPower, otherSpace] = [false, false, false, false];
  for (let at = 8; at + 12 <= bytes.length; at += 12 + bytes.readUInt32BE(at)) {
    const type = bytes.toString("latin1", at + 4, at + 8);
    const body = bytes.subarray(at + 8, at + 8 + bytes.readUInt32BE(at));
    if (type === "IDAT") break;
    parts += 1;
    if (type === "iCCP") profiled = true;
    if (type === "sRGB") standard = true;
    if (type === "gAMA" && body.length >= 4) otherPower = Math.abs(body.readUInt32BE(0) - SRGB_POWER) > POWER_SLACK;
    if (type === "cICP") otherSpace = !isSrgbCode(body);
  }
  return { parts, profiled, otherColours: otherSpace || (otherPower && !profiled && !standard), ended };
};
