import { type Lab, rgbOfLab50, xyzOfLab50 } from "./colour.ts";
import type { Material } from "./material.ts";
import { daylight, observerUnder, publishedPatches } from "./spectral-tables.ts";
import { dot, type Spectrum, smoothest } from "./spectrum.ts";

const underD50 = observerUnder(daylight.d50);

/** Reflectance of patch `index`, row by row from 0: the published one, scaled by the smoothest factor that makes its colour under D50 the stated one. */
export const patchReflectance = (index: number, stated: Lab): Spectrum => {
  const published = publishedPatches[index]!;
  const curves = underD50.map((curve) => curve.map((value, i) => value * published[i]!));
  const factor = smoothest(curves, xyzOfLab50(stated));
  return published.map((value, i) => value * factor[i]!);
};

/** A material that has this one reflectance where its colour is the stated one. */
export const patchMaterial = (index: number, stated: Lab): Material => {
  const reflectance = patchReflectance(index, stated);
  const rgb = rgbOfLab50(stated);
  const square = dot(rgb, rgb);
  const part = (share: number): Spectrum => reflectance.map((value) => (value * share) / square);
  return [part(rgb[0]), part(rgb[1]), part(rgb[2])];
};
