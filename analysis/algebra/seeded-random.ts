/** Numbers in 0..1, the same for the same seed on every machine (mulberry32, public domain, from memory). */
export const uniformFrom = (seed: number): (() => number) => {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
};

/** Standard normal numbers from a seed, by the polar form of Box and Muller. */
export const normalFrom = (seed: number): (() => number) => {
  const uniform = uniformFrom(seed);
  let spare: number | undefined;
  return () => {
    if (spare !== undefined) {
      const kept = spare;
      spare = undefined;
      return kept;
    }
    for (;;) {
      const x = 2 * uniform() - 1;
      const y = 2 * uniform() - 1;
      const r = x * x + y * y;
      if (r > 0 && r < 1) {
        const k = Math.sqrt((-2 * Math.log(r)) / r);
        spare = y * k;
        return x * k;
      }
    }
  };
};
