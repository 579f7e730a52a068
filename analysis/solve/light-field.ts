/**
 * The light of a photo on a thing is a sum of so many unknowns: its gain, five that vary over the photo (slopes, fall-off, the rest
 * of the second order), and its kind, which tells on wood by the wood's warmth.
 */
export const lightTerms = 7;

/** Of these so many differ from place to place: the constant and the five. */
export const placeTerms = 6;

/**
 * Writes the terms of a place, right and down from the photo's centre in half diagonals, at `at`. The second-order ones are shifted
 * by their rough mean over a photo, so that they leave its gain alone.
 */
export const writeTerms = (terms: Float64Array, at: number, x: number, y: number): void => {
  terms[at] = 1;
  terms[at + 1] = x;
  terms[at + 2] = y;
  terms[at + 3] = x * x + y * y - 0.35;
  terms[at + 4] = x * x - y * y - 0.15;
  terms[at + 5] = x * y;
};
