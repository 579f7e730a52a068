import { jpegSegment } from "./jpeg-parts.ts";

/** Bits in the order they are written, packed with ones at the end and stuffed (ITU-T T.81, F.1.2.3, from memory). */
const packed = (bits: readonly (readonly [value: number, length: number])[]): Buffer => {
  const bytes: number[] = [];
  let [held, count] = [0, 0];
  const put = (value: number, length: number) => {
    for (let i = length - 1; i >= 0; i -= 1) {
      held = (held << 1) | ((value >> i) & 1);
      count += 1;
      if (count < 8) continue;
      bytes.push(held, ...(held === 0xff ? [0] : []));
      [held, count] = [0, 0];
    }
  };
  for (const [value, length] of bits) put(value, length);
  while (count > 0) put(1, 1);
  return Buffer.from(bytes);
};

/** "The next `blocks` blocks hold nothing": runs of 2^n to 2^(n+1) - 1 blocks, n = 0 to 14, codes of four bits. */
const emptyRun = (blocks: number): Buffer => {
  const bits: [number, number][] = [];
  for (let left = blocks; left > 0; ) {
    const n = Math.min(14, Math.floor(Math.log2(left)));
    const run = Math.min(left, 2 ** (n + 1) - 1);
    bits.push([n, 4], [run - 2 ** n, n]);
    left -= run;
  }
  return packed(bits);
};

const scanHead = (components: readonly number[], first: number, last: number, high: number, low: number): Buffer =>
  jpegSegment(
    0xda,
    Buffer.from([components.length, ...components.flatMap((one) => [one, 0]), first, last, high * 16 + low]),
  );

/** Bits of a coefficient: sent one by one from the eleventh down, they take eleven scans. */
const highestBit = 10;

/**
 * A legal progressive JPEG of grey, whose 63 coefficients of three components each come bit by bit in scans of their own: 1 + 63 x 3 x 11 =
 * 2,080 scans that hold nothing, or as many of them as are asked for.
 */
export const manyScans = (width: number, height: number, scans = 2080): Buffer => {
  const blocks = Math.ceil(width / 8) * Math.ceil(height / 8);
  const frame = Buffer.from([8, 0, 0, 0, 0, 3, 1, 0x11, 0, 2, 0x11, 0, 3, 0x11, 0]);
  frame.writeUInt16BE(height, 1);
  frame.writeUInt16BE(width, 3);
  const table = (kind: number, counts: readonly number[], values: readonly number[]) =>
    jpegSegment(0xc4, Buffer.from([kind, ...Array.from({ length: 16 }, (_, i) => counts[i] ?? 0), ...values]));
  const emptyRuns = Array.from({ length: 15 }, (_, n) => n * 16);
  const head = [
    Buffer.from([0xff, 0xd8]),
    jpegSegment(0xdb, Buffer.concat([Buffer.from([0]), Buffer.alloc(64, 1)])),
    jpegSegment(0xc2, frame),
    table(0x00, [1], [0]),
    table(0x10, [0, 0, 0, 15], emptyRuns),
    scanHead([1, 2, 3], 0, 0, 0, 0),
    packed(Array.from({ length: blocks * 3 }, () => [0, 1] as const)),
  ];
  const nothing = emptyRun(blocks);
  const later: Buffer[] = [];
  for (let coefficient = 1; coefficient < 64; coefficient += 1)
    for (const component of [1, 2, 3])
      for (let bit = highestBit; bit >= 0; bit -= 1)
        later.push(scanHead([component], coefficient, coefficient, bit === highestBit ? 0 : bit + 1, bit), nothing);
  return Buffer.concat([...head, ...later.slice(0, 2 * (scans - 1)), Buffer.from([0xff, 0xd9])]);
};
