import type { Point } from "./pixels.ts";

/**
 * Radial distortion of one photo. With r the distance from `centre` over `unitPx`, an ideal (straight) picture lies at
 * centre + (p - centre) * (1 + k1 * r * r). `k1` 0: nothing was told, lines count as straight.
 */
export interface Lens {
  readonly centre: Point;
  readonly unitPx: number;
  readonly k1: number;
}

/** A lens without distortion: centre of the photo, half its diagonal as the unit. */
export const plainLens = (width: number, height: number): Lens => ({
  centre: [width / 2, height / 2],
  unitPx: Math.hypot(width, height) / 2,
  k1: 0,
});

/** From the photo to the ideal picture, px to px. */
export const straighten = ({ centre, unitPx, k1 }: Lens, [x, y]: Point): Point => {
  const dx = x - centre[0];
  const dy = y - centre[1];
  const f = 1 + (k1 * (dx * dx + dy * dy)) / (unitPx * unitPx);
  return [centre[0] + dx * f, centre[1] + dy * f];
};

/** From the ideal picture to the photo, px to px; for |k1| up to 0.1 within 0.01 px inside the photo (three Newton steps). */
export const bend = ({ centre, unitPx, k1 }: Lens, [x, y]: Point): Point => {
  const dx = x - centre[0];
  const dy = y - centre[1];
  const r2 = (dx * dx + dy * dy) / (unitPx * unitPx);
  let f = 1;
  for (let step = 0; step < 3; step++) f -= (f + k1 * r2 * f * f * f - 1) / (1 + 3 * k1 * r2 * f * f);
  return [centre[0] + dx * f, centre[1] + dy * f];
};
