/** Natural logarithm of the gamma function for x > 0, to 1e-13. Source: Lanczos' series, nine terms, g = 7 (from memory). */
const logGamma = (x: number): number => {
  const terms = [
    676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059, 12.507343278686905,
    -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
  ];
  const series = terms.reduce((sum, term, i) => sum + term / (x + i), 0.99999999999980993);
  const t = x + 6.5;
  return 0.5 * Math.log(2 * Math.PI) + (x - 0.5) * Math.log(t) - t + Math.log(series);
};

/** Regularised lower incomplete gamma function P(a, x), by its series. Source: Abramowitz and Stegun 6.5.29. */
const lowerGamma = (a: number, x: number): number => {
  if (x <= 0) return 0;
  let term = 1 / a;
  let sum = term;
  for (let k = 1; term > sum * 1e-16; k++) {
    term *= x / (a + k);
    sum += term;
  }
  return sum * Math.exp(a * Math.log(x) - x - logGamma(a));
};

/** The value that chi-square with these degrees of freedom stays below with `probability`, which lies between 0 and 1. */
export const chiSquareQuantile = (probability: number, degrees: number): number => {
  let [low, high] = [0, degrees + 10];
  while (lowerGamma(degrees / 2, high / 2) < probability) high *= 2;
  for (let halving = 0; halving < 100; halving++) {
    const middle = (low + high) / 2;
    if (lowerGamma(degrees / 2, middle / 2) < probability) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
};

/** Continued fraction of the incomplete beta function, by Lentz' way. Source: Abramowitz and Stegun 26.5.8. */
const betaFraction = (a: number, b: number, x: number): number => {
  const least = 1e-300;
  const away = (value: number) => (Math.abs(value) < least ? least : value);
  let c = 1;
  let d = 1 / away(1 - ((a + b) * x) / (a + 1));
  let value = d;
  for (let m = 1; m <= 500; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / away(1 + even * d);
    c = away(1 + even / c);
    value *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / away(1 + odd * d);
    c = away(1 + odd / c);
    value *= d * c;
    if (Math.abs(d * c - 1) < 1e-15) break;
  }
  return value;
};

/** Regularised incomplete beta function, 0..1. */
const incompleteBeta = (a: number, b: number, x: number): number => {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log(1 - x));
  return x < (a + 1) / (a + b + 2) ? (front * betaFraction(a, b, x)) / a : 1 - (front * betaFraction(b, a, 1 - x)) / b;
};

/** Probability that F with these degrees of freedom is at least `ratio`. Source: Abramowitz and Stegun 26.6.2. */
export const fUpperTail = (ratio: number, above: number, below: number): number =>
  incompleteBeta(below / 2, above / 2, below / (below + above * ratio));
