import { patchReflectance } from "./chart-patch.ts";
import { chartBefore2014 } from "./chart-values.ts";
import { type Matrix, type Rgb, rgbOfLab50 } from "./colour.ts";
import { daylightBetween } from "./illuminant.ts";
import { type Sensitivities, signalsOf } from "./sensor.ts";
import { solveLinear } from "./solve-linear.ts";
import { perfectWhite } from "./spectrum.ts";

const chart = chartBefore2014.map((stated, i) => ({
  reflectance: patchReflectance(i, stated),
  rgb: rgbOfLab50(stated),
}));

/**
 * A maker's colour matrix: from signals in which white is 1, 1, 1 to linear sRGB, white to white. Least squares over the stated
 * colours of the chart, taken in D50, midway between shade and lamps.
 */
export const colourMatrixOf = (sensitivities: Sensitivities): Matrix => {
  const light = daylightBetween(0);
  const full = signalsOf(sensitivities, light, perfectWhite);
  const patches = chart.map(({ reflectance, rgb }) => {
    const [r, g, b] = signalsOf(sensitivities, light, reflectance).map((v, k) => v / full[k]!) as [
      number,
      number,
      number,
    ];
    return { overBlue: [r - b, g - b] as const, blue: b, rgb };
  });
  const sum = (of: (patch: (typeof patches)[number]) => number): number =>
    patches.reduce((all, patch) => all + of(patch), 0);
  const squares = [0, 1].map((j) => [0, 1].map((k) => sum(({ overBlue }) => overBlue[j]! * overBlue[k]!)));
  const row = (channel: 0 | 1 | 2): Rgb => {
    const right = [0, 1].map((j) => sum(({ overBlue, blue, rgb }) => overBlue[j]! * (rgb[channel] - blue)));
    const [red, green] = solveLinear(squares, right) as [number, number];
    return [red, green, 1 - red - green];
  };
  return [row(0), row(1), row(2)];
};
