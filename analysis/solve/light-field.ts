/** The light of a photo at a place is a sum of so many terms: its gain, slopes, fall-off, the rest of the second order. */
export const lightTerms = 6;

export type LightTerms = readonly [1, number, number, number, number, number];

/**
 * The terms at a place, right and down from the photo's centre in half diagonals. The second-order ones are shifted by
 * their rough mean over a photo, so that they leave its gain alone.
 */
export const lightTermsAt = (x: number, y: number): LightTerms => [
  1,
  x,
  y,
  x * x + y * y - 0.35,
  x * x - y * y - 0.15,
  x * y,
];
