import type { Matrix, Rgb } from "./colour.ts";
import { colourMatrixOf } from "./colour-matrix.ts";
import type { Illuminant } from "./illuminant.ts";
import type { Light } from "./light.ts";
import type { Material } from "./material.ts";
import type { Phone } from "./phone.ts";
import { sensitivitiesOf, signalsOf } from "./sensor.ts";
import { solveLinear } from "./solve-linear.ts";
import { perfectWhite } from "./spectrum.ts";

/** From the true colour of a surface to what the photo shows, linear sRGB both: lit by the daylight of a photo, and by its lamps. */
export interface Sight {
  readonly daylight: Matrix;
  readonly lamps: Matrix;
}

/**
 * How a phone shows surfaces in one photo, material by material. It balances its channels on a grey under the light at the centre,
 * but for an error: `greyShown` is what a white under that light comes out as.
 */
export const sightIn = (
  phone: Phone,
  { daylight, lamps, lampShare }: Light,
  greyShown: Rgb,
): ((material: Material) => Sight) => {
  const sensitivities = sensitivitiesOf(phone.filters);
  const colourMatrix = colourMatrixOf(sensitivities);
  const [byDay, byLamp] = [
    signalsOf(sensitivities, daylight, perfectWhite),
    signalsOf(sensitivities, lamps, perfectWhite),
  ];
  const wanted = solveLinear(colourMatrix, greyShown);
  const balance = wanted.map((value, k) => value / (byDay[k]! + lampShare * (byLamp[k]! - byDay[k]!)));
  const under = (light: Illuminant, material: Material): Matrix => {
    const seen = material.map((reflectance) => signalsOf(sensitivities, light, reflectance));
    return colourMatrix.map((row) =>
      seen.map((signal) => row.reduce((sum, share, k) => sum + share * balance[k]! * signal[k]!, 0)),
    ) as unknown as Matrix;
  };
  return (material) => ({ daylight: under(daylight, material), lamps: under(lamps, material) });
};
