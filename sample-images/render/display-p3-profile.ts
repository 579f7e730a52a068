const words = (values: readonly number[]): Buffer => {
  const out = Buffer.alloc(values.length * 4);
  values.forEach((value, i) => {
    out.writeInt32BE(Math.round(value * 65536), i * 4);
  });
  return out;
};

const tag = (type: string, ...content: readonly Buffer[]): Buffer => {
  const body = Buffer.concat([Buffer.from(`${type}\0\0\0\0`, "latin1"), ...content]);
  return Buffer.concat([body, Buffer.alloc((4 - (body.length % 4)) % 4)]);
};

const text = (words: string): Buffer => {
  const letters = Buffer.from(words, "utf16le").swap16();
  const head = Buffer.alloc(20);
  [1, 12].forEach((value, i) => {
    head.writeUInt32BE(value, i * 4);
  });
  head.write("enUS", 8, "latin1");
  head.writeUInt32BE(letters.length, 12);
  head.writeUInt32BE(28, 16);
  return tag("mluc", head, letters);
};

/**
 * The colour profile that phones attach to Display P3 photos: three primaries adapted to D50, the curve of sRGB (ICC.1, version 4).
 * Primaries and adaptation matrix from memory; a test lets another engine apply it.
 */
export const displayP3Profile = (): Buffer => {
  const curve = Buffer.concat([Buffer.from([0, 3, 0, 0]), words([2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045])]);
  const tags: readonly (readonly [string, Buffer])[] = [
    ["desc", text("Display P3")],
    ["cprt", text("CC0")],
    ["wtpt", tag("XYZ ", words([0.9642, 1, 0.8249]))],
    ["rXYZ", tag("XYZ ", words([0.51512, 0.2412, -0.00105]))],
    ["gXYZ", tag("XYZ ", words([0.29198, 0.69225, 0.04189]))],
    ["bXYZ", tag("XYZ ", words([0.1571, 0.06657, 0.78407]))],
    ["rTRC", tag("para", curve)],
    ["gTRC", tag("para", curve)],
    ["bTRC", tag("para", curve)],
    ["chad", tag("sf32", words([1.04788, 0.02292, -0.0502, 0.02959, 0.99048, -0.01706, -0.00923, 0.01508, 0.75168]))],
  ];
  const table = Buffer.alloc(4 + 12 * tags.length);
  table.writeUInt32BE(tags.length, 0);
  let offset = 128 + table.length;
  tags.forEach(([name, content], i) => {
    table.write(name, 4 + 12 * i, "latin1");
    table.writeUInt32BE(offset, 8 + 12 * i);
    table.writeUInt32BE(content.length, 12 + 12 * i);
    offset += content.length;
  });
  const head = Buffer.alloc(128);
  head.writeUInt32BE(offset, 0);
  head.writeUInt32BE(0x04000000, 8);
  head.write("mntrRGB XYZ ", 12, "latin1");
  [2026, 3, 3].forEach((value, i) => {
    head.writeUInt16BE(value, 24 + 2 * i);
  });
  head.write("acsp", 36, "latin1");
  words([0.9642, 1, 0.8249]).copy(head, 68);
  return Buffer.concat([head, table, ...tags.map(([, content]) => content)]);
};
