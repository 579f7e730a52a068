import { daylight, observerUnder } from "./spectral-tables.ts";
import { dot, perfectWhite, type Spectrum, wavelengths } from "./spectrum.ts";

/** Power of a light over the spectrum, scaled so that lights of equal share look equally bright. */
export type Illuminant = Spectrum;

const asBright = (power: Spectrum): Illuminant => {
  const luminance = dot(power, observerUnder(perfectWhite)[1]);
  return power.map((value) => value / luminance);
};

/** Daylight between D50 (0, sun and sky) and D65 (1, north sky). */
export const daylightBetween = (north: number): Illuminant => {
  const [d50, d65] = [asBright(daylight.d50), asBright(daylight.d65)];
  return d50.map((value, i) => value + north * (d65[i]! - value));
};

/** A white lamp: a narrow peak of the blue diode under a broad hump of its phosphor. */
const whiteLamp = (blue: number, phosphorNm: number, widthNm: number): Illuminant =>
  asBright(
    wavelengths.map(
      (nm) => blue * Math.exp(-0.5 * ((nm - 451) / 10) ** 2) + Math.exp(-0.5 * ((nm - phosphorNm) / widthNm) ** 2),
    ),
  );

/** Lamps as on sites, shapes from memory: floodlights on stands are neutral, those of stairs and corridors warm. */
export const lamps = {
  neutral: whiteLamp(0.95, 584, 60),
  warm: whiteLamp(0.38, 604, 58),
} as const;
