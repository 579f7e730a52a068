/** Light over a photo: slopes right and down, fall-off from the centre, and the rest of the second order. */
export const fieldTerms = 5;

/**
 * The terms at a place (right and down from the photo's centre in half diagonals). The second-order ones are shifted by
 * their rough mean over a photo, so that they leave the photo's gain alone.
 */
export const fieldAt = (x: number, y: number): readonly [number, number, number, number, number] => [
  x,
  y,
  x * x + y * y - 0.35,
  x * x - y * y - 0.15,
  x * y,
];
