/** One segment of a JPEG: marker, length, body (ITU-T T.81, B.1, from memory). */
export const jpegSegment = (code: number, body: Buffer): Buffer => {
  const head = Buffer.from([0xff, code, 0, 0]);
  head.writeUInt16BE(body.length + 2, 2);
  return Buffer.concat([head, body]);
};

/** A JPEG with further segments behind its start. */
export const withSegments = (jpeg: Buffer, ...segments: readonly Buffer[]): Buffer =>
  Buffer.concat([jpeg.subarray(0, 2), ...segments, jpeg.subarray(2)]);

/** The longest body that the two bytes of length leave room for. */
const longestBody = 65_533;

/** A profile in as many segments as it needs, 255 at most (ICC.1, annex B, from memory). */
export const jpegProfile = (profile: Buffer): Buffer[] => {
  const room = longestBody - 14;
  const count = Math.ceil(profile.length / room);
  return Array.from({ length: count }, (_, i) =>
    jpegSegment(
      0xe2,
      Buffer.concat([
        Buffer.from("ICC_PROFILE\0", "latin1"),
        Buffer.from([i + 1, count]),
        profile.subarray(i * room, (i + 1) * room),
      ]),
    ),
  );
};

/** Segments of one kind, filled with a letter, that come to `bytes` together. */
export const fillingSegments = (code: number, bytes: number): Buffer[] =>
  Array.from({ length: Math.ceil(bytes / longestBody) }, () => jpegSegment(code, Buffer.alloc(longestBody, 0x55)));

/** Where the first scan begins. */
const firstScanAt = (jpeg: Buffer): number => jpeg.indexOf(Buffer.from([0xff, 0xda]));

/** A JPEG whose scan header says it ends at coefficient 0 though it is no progressive one: "invalid SOS" to its reader. */
export const withOddScanHeader = (jpeg: Buffer): Buffer => {
  const out = Buffer.from(jpeg);
  const at = firstScanAt(out);
  out[at + 6 + 2 * (out[at + 4] ?? 0)] = 0;
  return out;
};

/** The first segment of most JPEGs, with a major revision of its format, density 1 x 1. */
export const jfif = (revision: number): Buffer =>
  jpegSegment(0xe0, Buffer.from([0x4a, 0x46, 0x49, 0x46, 0, revision, 1, 0, 0, 1, 0, 1, 0, 0]));

/** XMP as a JPEG carries it. */
export const xmpSegment = (xml: string): Buffer =>
  jpegSegment(0xe1, Buffer.from(`http://ns.adobe.com/xap/1.0/\0${xml}`, "latin1"));
