import type { Lab } from "../../../sample-images/render/colour.ts";
import { daylight, observerUnder } from "../../../sample-images/render/spectral-tables.ts";
import { dot, type Spectrum } from "../../../sample-images/render/spectrum.ts";

const root = (t: number): number => (t > (6 / 29) ** 3 ? Math.cbrt(t) : t / (3 * (6 / 29) ** 2) + 4 / 29);

/** CIELAB under D50 of a reflectance; white as ASTM E308 rounds it. Source: CIE 15 (from memory). */
export const labUnderD50 = (reflectance: Spectrum): Lab => {
  const [x, y, z] = observerUnder(daylight.d50).map((curve) => dot(curve, reflectance)) as [number, number, number];
  const [fx, fy, fz] = [root(x / 0.96422), root(y), root(z / 0.82521)];
  return [116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)];
};
