import { type Rgb, rgbOfXyz } from "./colour.ts";
import { daylight, observerUnder } from "./spectral-tables.ts";
import { dot, type Spectrum, smoothest, wavelengths } from "./spectrum.ts";

/**
 * What a surface is made of: a surface of true colour r, g, b (linear sRGB, D65) reflects r times the first spectrum, g times
 * the second and b times the third. Colours that look alike on two materials may part in a camera.
 */
export type Material = readonly [ofRed: Spectrum, ofGreen: Spectrum, ofBlue: Spectrum];

/** Curves whose sums with a reflectance are its linear sRGB under D65; a perfect white is 1, 1, 1. */
const rgbCurves: Material = (() => {
  const [x, y, z] = observerUnder(daylight.d65);
  const channels = wavelengths.map((_, i) => rgbOfXyz([x[i]!, y[i]!, z[i]!]));
  const curve = (k: 0 | 1 | 2): Spectrum => {
    const values = channels.map((rgb) => rgb[k]);
    const white = values.reduce((sum, value) => sum + value, 0);
    return values.map((value) => value / white);
  };
  return [curve(0), curve(1), curve(2)];
})();

/** True colour of a reflectance: linear sRGB, D65. */
export const rgbOfReflectance = (reflectance: Spectrum): Rgb => [
  dot(rgbCurves[0], reflectance),
  dot(rgbCurves[1], reflectance),
  dot(rgbCurves[2], reflectance),
];

/** Paint, paper, plaster, plastics: the smoothest reflectance of each colour; a grey is the same at all wavelengths. */
export const smoothMaterial: Material = [
  smoothest(rgbCurves, [1, 0, 0]),
  smoothest(rgbCurves, [0, 1, 0]),
  smoothest(rgbCurves, [0, 0, 1]),
];
