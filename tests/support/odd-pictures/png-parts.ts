import { crc32, deflateSync } from "node:zlib";

/** One chunk of a PNG: length, name, body, check sum (PNG specification, 5.3). */
export const pngChunk = (type: string, body: Buffer, check?: number): Buffer => {
  const named = Buffer.concat([Buffer.from(type, "latin1"), body]);
  const [length, sum] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(body.length);
  sum.writeUInt32BE(check ?? crc32(named));
  return Buffer.concat([length, named, sum]);
};

/** A PNG with further chunks between its header and what follows. */
export const withPngChunks = (png: Buffer, ...chunks: readonly Buffer[]): Buffer =>
  Buffer.concat([png.subarray(0, 33), ...chunks, png.subarray(33)]);

/** A profile chunk whose content is `profile`, packed. */
export const pngProfile = (profile: Buffer): Buffer =>
  pngChunk("iCCP", Buffer.concat([Buffer.from("x\0\0", "latin1"), deflateSync(profile, { level: 9 })]));

/** Packed text: a keyword and what unfolds to `bytes` letters. */
export const packedText = (bytes: number): Buffer =>
  pngChunk(
    "zTXt",
    Buffer.concat([Buffer.from("Comment\0\0", "latin1"), deflateSync(Buffer.alloc(bytes, 65), { level: 9 })]),
  );

/** Many plain texts of a few letters. */
export const plainTexts = (count: number): Buffer[] =>
  Array.from({ length: count }, (_, i) => pngChunk("tEXt", Buffer.from(`Comment\0number ${i}`, "latin1")));
