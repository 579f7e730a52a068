/** Numbers 0 to 1 that are the same for the same seed (mulberry32, public domain, from memory). */
const seeded = (seed: number): (() => number) => {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
};

/** Values at which lengths and counts go wrong. */
const edges = [0, 1, 0x7f, 0x80, 0xfe, 0xff] as const;

/** A copy of a file with one to eight faults: bits, bytes, numbers, pieces repeated, lost, moved, or from elsewhere in it. */
export const mutated = (file: Buffer, seed: number): Buffer => {
  const random = seeded(seed);
  const below = (end: number) => Math.floor(random() * end);
  // Half of the faults fall into the first thousand bytes, where the tables are.
  const place = (length: number) => (random() < 0.5 ? below(Math.min(1000, length)) : below(length));
  let out = Buffer.from(file);
  for (let faults = 1 + below(8); faults > 0; faults -= 1) {
    const at = place(out.length);
    const length = 1 + below(random() < 0.7 ? 16 : 2000);
    const piece = out.subarray(at, at + length);
    const kind = below(7);
    if (kind === 0) out[at] = (out[at] ?? 0) ^ (1 << below(8));
    else if (kind === 1) out[at] = below(256);
    else if (kind === 2) out.fill(edges[below(edges.length)] ?? 0, at, Math.min(out.length, at + 1 + below(4)));
    else if (kind === 3) out = Buffer.concat([out.subarray(0, at), piece, out.subarray(at)]);
    else if (kind === 4) out = Buffer.concat([out.subarray(0, at), out.subarray(at + length)]);
    else if (kind === 5) Buffer.from(piece).copy(out, place(out.length));
    else if (random() < 0.2) out = out.subarray(0, Math.max(1, at));
  }
  return out;
};
