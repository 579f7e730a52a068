import type { Illuminant } from "./illuminant.ts";

/**
 * The light of one photo, a mixture of daylight and lamps, falling off over the room. `slope` is per metre from `centreMm` (x right,
 * y down), `radial` per square metre. `lampShare` is the share of brightness that the lamps have at the centre, `lampSlope` what it
 * grows by per metre.
 */
export interface Light {
  readonly daylight: Illuminant;
  readonly lamps: Illuminant;
  readonly lampShare: number;
  readonly lampSlope: readonly [x: number, y: number];
  readonly centreMm: readonly [x: number, y: number];
  readonly slope: readonly [x: number, y: number];
  readonly radial: number;
}

/** Strength of daylight and of lamps at a point of the room; their sum is 1 at the centre. */
export const lightAt = (light: Light, xMm: number, yMm: number, out: Float64Array): void => {
  const x = (xMm - light.centreMm[0]) / 1000;
  const y = (yMm - light.centreMm[1]) / 1000;
  const level = Math.max(0.05, 1 + light.slope[0] * x + light.slope[1] * y - light.radial * (x * x + y * y));
  const ofLamps = Math.min(1, Math.max(0, light.lampShare + light.lampSlope[0] * x + light.lampSlope[1] * y));
  out[0] = level * (1 - ofLamps);
  out[1] = level * ofLamps;
};
