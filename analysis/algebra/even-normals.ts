/**
 * The standard normal value below which so much of the distribution lies, 0 < share < 1; relative error below 1.2e-9.
 * Source: P. J. Acklam's rational approximation (from memory; held to tables in its test).
 */
export const normalQuantile = (share: number): number => {
  if (share < 0.02425) return tail(Math.sqrt(-2 * Math.log(share)));
  if (share > 1 - 0.02425) return -tail(Math.sqrt(-2 * Math.log(1 - share)));
  const q = share - 0.5;
  const r = q * q;
  const over =
    ((((-39.69683028665376 * r + 220.9460984245205) * r - 275.9285104469687) * r + 138.357751867269) * r -
      30.66479806614716) *
      r +
    2.506628277459239;
  const under =
    ((((-54.47609879822406 * r + 161.5858368580409) * r - 155.6989798598866) * r + 66.80131188771972) * r -
      13.28068155288572) *
      r +
    1;
  return (q * over) / under;
};

const tail = (q: number): number =>
  (((((-0.007784894002430293 * q - 0.3223964580411365) * q - 2.400758277161838) * q - 2.549732539343734) * q +
    4.374664141464968) *
    q +
    2.938163982698783) /
  ((((0.007784695709041462 * q + 0.3224671290700398) * q + 2.445134137142996) * q + 3.754408661907416) * q + 1);

/** Digits of a whole number in a base, mirrored at the point: 0..1, the evener filled the more of them. */
const mirrored = (whole: number, base: number): number => {
  let [rest, share, value] = [whole, 1 / base, 0];
  while (rest > 0) {
    value += share * (rest % base);
    rest = Math.floor(rest / base);
    share /= base;
  }
  return value;
};

const bases = [2, 3, 5] as const;

/**
 * Points of three standard normals, x, y, z after one another, spread evenly instead of drawn: a few hundred do what thousands of
 * draws do. Source: J. H. Halton 1960 (from memory).
 */
export const evenNormals = (count: number): Float64Array =>
  Float64Array.from({ length: 3 * count }, (_, i) =>
    normalQuantile(mirrored(Math.floor(i / 3) + 1, bases[(i % 3) as 0 | 1 | 2])),
  );
