import type { Rgb } from "./colour.ts";
import type { Illuminant } from "./illuminant.ts";
import { dot, type Spectrum, wavelengths } from "./spectrum.ts";

/** A band of light that a dye lets through: where it peaks, how far from there it has fallen to 37 %. */
interface Band {
  readonly peakNm: number;
  readonly widthNm: number;
}

/** What makes a phone's sensor see colours in its own way. */
export interface Filters {
  /** Where the red dye turns clear, to the red of it. */
  readonly redEdgeNm: number;
  readonly green: Band;
  readonly blue: Band;
  /** Share of all light that red, green and blue dye let through where they should not. */
  readonly leaks: readonly [red: number, green: number, blue: number];
  /** Where the glass before the sensor has taken half of the light; no infra-red is left at 700 nm. */
  readonly infraredCutNm: number;
}

/** Signal of the three channels for each wavelength; white balance evens out their strengths. */
export type Sensitivities = readonly [red: Spectrum, green: Spectrum, blue: Spectrum];

const step = (nm: number, edgeNm: number, softNm: number): number => 1 / (1 + Math.exp((edgeNm - nm) / softNm));
/** Flatter at its top than a Gaussian, as dyes are. */
const band = (nm: number, { peakNm, widthNm }: Band): number => Math.exp(-(Math.abs((nm - peakNm) / widthNm) ** 2.4));

/** Sensitivities of a sensor behind its dyes, glass (ultra-violet goes at 405 nm) and lens. Shapes as usual in phones, from memory. */
export const sensitivitiesOf = ({ redEdgeNm, green, blue, leaks, infraredCutNm }: Filters): Sensitivities => {
  const glass = wavelengths.map((nm) => step(nm, 405, 5) * (1 - step(nm, infraredCutNm, 16)) * (1 - step(nm, 680, 4)));
  const behind = (dye: (nm: number) => number, leak: number): Spectrum =>
    wavelengths.map((nm, i) => glass[i]! * (leak + (1 - leak) * dye(nm)));
  return [
    behind((nm) => step(nm, redEdgeNm, 7), leaks[0]),
    behind((nm) => band(nm, green), leaks[1]),
    behind((nm) => band(nm, blue), leaks[2]),
  ];
};

/** What a sensor makes of a reflectance under a light, each channel of its own strength. */
export const signalsOf = (sensitivities: Sensitivities, light: Illuminant, reflectance: Spectrum): Rgb => {
  const lit = light.map((value, i) => value * reflectance[i]!);
  return [dot(sensitivities[0], lit), dot(sensitivities[1], lit), dot(sensitivities[2], lit)];
};
