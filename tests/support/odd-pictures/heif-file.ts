const sized = (type: string, ...content: readonly Buffer[]): Buffer => {
  const body = Buffer.concat(content);
  const head = Buffer.alloc(8);
  head.writeUInt32BE(body.length + 8);
  head.write(type, 4, "latin1");
  return Buffer.concat([head, body]);
};

/** The first bytes of a file of the family that HEIC and AVIF belong to (ISO/IEC 14496-12, from memory). */
export const familyHead = (brand: string): Buffer =>
  sized("ftyp", Buffer.from(`${brand}\0\0\0\0mif1${brand}`, "latin1"));

/** A HEIC that lists no picture at all. */
export const emptyHeic = (): Buffer =>
  Buffer.concat([familyHead("heic"), sized("meta", Buffer.alloc(4)), sized("mdat", Buffer.alloc(2000, 7))]);

/** A HEIC whose colour box names a space by its codes (ITU-T H.273) in place of its profile; the box keeps its length. */
export const withColourCodes = (heic: Buffer, primaries: number, curve: number): Buffer => {
  const out = Buffer.from(heic);
  const at = out.indexOf("colrprof", 0, "latin1");
  out.write("nclx", at + 4, "latin1");
  out.writeUInt16BE(primaries, at + 8);
  out.writeUInt16BE(curve, at + 10);
  return out;
};

/** A HEIC whose picture is said to be of another size, px; what is coded stays. */
export const withPictureSize = (heic: Buffer, width: number, height: number): Buffer => {
  const out = Buffer.from(heic);
  for (let at = out.indexOf("ispe"); at >= 0; at = out.indexOf("ispe", at + 4)) {
    out.writeUInt32BE(width, at + 8);
    out.writeUInt32BE(height, at + 12);
  }
  const grid = out.indexOf("idat") + 4;
  out.writeUInt16BE(Math.min(width, 65_535), grid + 4);
  out.writeUInt16BE(Math.min(height, 65_535), grid + 6);
  return out;
};
