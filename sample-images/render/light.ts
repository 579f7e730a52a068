import type { Rgb } from "./colour.ts";

/**
 * The light of one photo: even light of a colour, falling off over the room. Slopes per metre from `centreMm` (x right, y down),
 * `radial` per square metre; `tint` is a second light of another colour that grows to the right, for mixed light.
 */
export interface Light {
  readonly colour: Rgb;
  readonly centreMm: readonly [x: number, y: number];
  readonly slope: readonly [x: number, y: number];
  readonly radial: number;
  readonly tint: readonly [r: number, b: number];
}

/** Strength of the three channels at a point of the room; 1 is the light at the centre, white. */
export const lightAt = (light: Light, xMm: number, yMm: number, out: Float64Array): void => {
  const x = (xMm - light.centreMm[0]) / 1000;
  const y = (yMm - light.centreMm[1]) / 1000;
  const level = Math.max(0.05, 1 + light.slope[0] * x + light.slope[1] * y - light.radial * (x * x + y * y));
  out[0] = level * light.colour[0] * (1 + light.tint[0] * x);
  out[1] = level * light.colour[1];
  out[2] = level * light.colour[2] * (1 + light.tint[1] * x);
};
