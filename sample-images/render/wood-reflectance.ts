import { type Material, rgbOfReflectance } from "./material.ts";
import { solveLinear } from "./solve-linear.ts";
import { wavelengths } from "./spectrum.ts";

/**
 * Woods reflect little blue and more and more towards red, without bumps. Here by a logistic step: the share left in the blue, where
 * the step lies, how wide it is. The ranges are ours; they hold the colours of walnut, ash and sapele.
 */
const family = [0.1, 0.2, 0.35].flatMap((low) =>
  [520, 570, 620].flatMap((middleNm) =>
    [45, 60, 75].map((widthNm) => {
      const plain = wavelengths.map((nm) => low + (1 - low) / (1 + Math.exp((middleNm - nm) / widthNm)));
      const [, green] = rgbOfReflectance(plain);
      const reflectance = plain.map((value) => value / green);
      return { reflectance, rgb: rgbOfReflectance(reflectance) };
    }),
  ),
);

const squares = [0, 1, 2].map((j) => [0, 1, 2].map((k) => family.reduce((sum, { rgb }) => sum + rgb[j]! * rgb[k]!, 0)));

/** For each wavelength the least squares over the family, all woods being equally light; true colours stay exact by that. */
const shares = wavelengths.map((_, i) =>
  solveLinear(
    squares,
    [0, 1, 2].map((k) => family.reduce((sum, { rgb, reflectance }) => sum + rgb[k]! * reflectance[i]!, 0)),
  ),
);

/** Wood and veneer. */
export const woodMaterial: Material = [
  shares.map(([red]) => red!),
  shares.map(([, green]) => green!),
  shares.map(([, , blue]) => blue!),
];
