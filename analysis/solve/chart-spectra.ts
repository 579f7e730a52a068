import { apply3, inverse3, type Matrix3, type Vector3 } from "../algebra/matrix3.ts";
import { chart24Spectra } from "../colour/chart24-spectra.ts";
import { adaptWhite, d50White, d65White, type Lab65, xyzToLab65 } from "../colour/lab.ts";
import { type Spectrum, wavelengths, xyzInD50 } from "../colour/spectra.ts";

const toD65 = adaptWhite(d50White, d65White);

/** The colour a chart's table would state: seen in D50, adapted. */
const statedColour = (reflectance: Spectrum): Lab65 => xyzToLab65(apply3(toD65, xyzInD50(reflectance)));

/** Broad humps in blue, green and red: by them a spectrum is drawn to another colour with the least change of shape. */
const humps: readonly Spectrum[] = [450, 540, 620].map((peak) =>
  wavelengths.map((nm) => Math.exp(-0.5 * ((nm - peak) / 45) ** 2)),
);

const distance = (one: Lab65, other: Lab65): number =>
  Math.hypot(one[0] - other[0], one[1] - other[1], one[2] - other[2]);

/** A likely spectrum of a patch of a stated colour: the published patch nearest to it, drawn to it (Newton's method). */
export const spectrumOf = (stated: Lab65): Spectrum => {
  let spectrum = chart24Spectra.reduce((best, next) =>
    distance(statedColour(next), stated) < distance(statedColour(best), stated) ? next : best,
  );
  for (let round = 0; round < 8; round++) {
    const colour = statedColour(spectrum);
    const miss: Vector3 = [stated[0] - colour[0], stated[1] - colour[1], stated[2] - colour[2]];
    if (Math.hypot(...miss) < 0.001) break;
    const step = 1e-3;
    const slopes = humps.map((hump) => {
      const moved = statedColour(spectrum.map((value, i) => value * (1 + step * hump[i]!)));
      return moved.map((value, k) => (value - colour[k]!) / step);
    });
    const [blue, green, red] = slopes as [number[], number[], number[]];
    const J = [blue[0], green[0], red[0], blue[1], green[1], red[1], blue[2], green[2], red[2]] as unknown as Matrix3;
    const change = apply3(inverse3(J), miss).map((value) => Math.max(-0.3, Math.min(0.3, value)));
    spectrum = spectrum.map(
      (value, i) =>
        value * Math.exp(change[0]! * humps[0]![i]! + change[1]! * humps[1]![i]! + change[2]! * humps[2]![i]!),
    );
  }
  return spectrum;
};
