/**
 * The light of a photo on a thing is a sum of so many terms: its gain, slopes, fall-off, the rest of the second order, and its
 * kind, which tells on wood by the wood's warmth.
 */
export const lightTerms = 7;

export type LightTerms = readonly [1, number, number, number, number, number, number];

/**
 * The terms at a place, right and down from the photo's centre in half diagonals, for a thing of a warmth (0 for a grey). The
 * second-order ones are shifted by their rough mean over a photo, so that they leave its gain alone.
 */
export const lightTermsAt = (x: number, y: number, warmth: number): LightTerms => [
  1,
  x,
  y,
  x * x + y * y - 0.35,
  x * x - y * y - 0.15,
  x * y,
  warmth,
];
