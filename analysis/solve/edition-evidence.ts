import { addTo, factorEnvelope, makeEnvelope, solveFactored } from "../algebra/envelope-cholesky.ts";
import { apply3, type Vector3 } from "../algebra/matrix3.ts";
import { xyzToSrgb } from "../colour/encoding.ts";
import type { Lab65 } from "../colour/lab.ts";
import { daylightD65, dot, observer, type Spectrum, wavelengths } from "../colour/spectra.ts";
import { spectrumOf } from "./chart-spectra.ts";

/** What an edition lets expect of its patches in a photo, by number of the patch. */
export interface EditionSpectra {
  /** What a camera with the eye's own sensitivities would show in each channel. */
  readonly expected: readonly Vector3[];
  readonly luminance: readonly number[];
  /** Covariance of two patches in any channel, from how a camera's sensitivities and the light may differ from those. */
  readonly together: readonly (readonly number[])[];
}

/**
 * What is taken for granted of sensitivities times light, channel by channel: half as much again or less than the eye's in daylight, in
 * humps some 30 nm wide (sensors and lamps have no finer features but the lines of fluorescent tubes); the gain free within a
 * twentieth; a patch seen to 1 % of its light, which is made fit to the photo. Twice the first or half as much again of the second
 * moved the outcome on rendered photos by a tenth.
 */
const usual = { amplitude: 0.5, lengthNm: 30, gain: 0.05, patchNoise: 0.01, darkest: 0.02 } as const;

/** Factors on the noise of a patch that are tried; the likeliest counts. */
const noises = [0.3, 0.5, 0.7, 1, 1.5, 2, 3] as const;

/** Weights over the spectrum of linear sRGB in daylight, each channel summing to 1; and of luminance. */
const weights = (() => {
  const rows = wavelengths.map((_, i) =>
    apply3(xyzToSrgb, [
      observer.x[i]! * daylightD65[i]!,
      observer.y[i]! * daylightD65[i]!,
      observer.z[i]! * daylightD65[i]!,
    ]),
  );
  const unit = (values: readonly number[]): Spectrum => {
    const sum = values.reduce((total, value) => total + value, 0);
    return values.map((value) => value / sum);
  };
  const channel = (k: 0 | 1 | 2) => unit(rows.map((row) => row[k]));
  return {
    channels: [channel(0), channel(1), channel(2)] as const,
    luminance: unit(wavelengths.map((_, i) => observer.y[i]! * daylightD65[i]!)),
  };
})();

/** How far sensitivities may differ at two wavelengths together: a Gaussian process, where the eye's are strong. */
const freedom: readonly Spectrum[] = (() => {
  const strength = wavelengths.map((_, i) => weights.channels.reduce((sum, channel) => sum + Math.abs(channel[i]!), 0));
  return wavelengths.map((one, i) =>
    wavelengths.map(
      (other, j) =>
        usual.amplitude ** 2 * Math.exp(-0.5 * ((one - other) / usual.lengthNm) ** 2) * strength[i]! * strength[j]!,
    ),
  );
})();

export const editionSpectra = (lab: readonly Lab65[]): EditionSpectra => {
  const spectra = lab.map(spectrumOf);
  const [red, green, blue] = weights.channels;
  const carried = spectra.map((spectrum) => freedom.map((row) => dot(row, spectrum)));
  return {
    expected: spectra.map((spectrum) => [dot(red, spectrum), dot(green, spectrum), dot(blue, spectrum)]),
    luminance: spectra.map((spectrum) => dot(weights.luminance, spectrum)),
    together: spectra.map((spectrum) => carried.map((other) => dot(other, spectrum))),
  };
};

/** Logarithm of how likely lights of one channel are, given the edition; the noise is the likeliest of those tried. */
const channelEvidence = (
  { expected, luminance, together }: EditionSpectra,
  numbers: readonly number[],
  channel: 0 | 1 | 2,
  light: readonly number[],
): number => {
  const noise = numbers.map((number) => usual.patchNoise * (luminance[number]! + usual.darkest));
  const hoped = numbers.map((number) => expected[number]![channel]);
  const sum = (of: (i: number) => number) => numbers.reduce((total, _, i) => total + of(i), 0);
  const gain = sum((i) => (hoped[i]! / noise[i]!) ** 2) / sum((i) => (light[i]! * hoped[i]!) / noise[i]! ** 2);
  const miss = Float64Array.from(numbers, (_, i) => gain * light[i]! - hoped[i]!);
  const evidence = noises.map((factor) => {
    const covariance = makeEnvelope(new Int32Array(numbers.length));
    numbers.forEach((number, i) => {
      addTo(covariance, i, i, (factor * noise[i]!) ** 2);
      for (let j = 0; j <= i; j++)
        addTo(covariance, i, j, together[number]![numbers[j]!]! + usual.gain ** 2 * hoped[i]! * hoped[j]!);
    });
    const factored = factorEnvelope(covariance);
    if (factored.kind !== "factored") return Number.NEGATIVE_INFINITY;
    const weighted = solveFactored(factored.factor, Float64Array.from(miss));
    return -0.5 * (factored.logDeterminant + sum((i) => weighted[i]! * miss[i]!));
  });
  return Math.max(...evidence);
};

/**
 * Logarithm of how likely the lights of patches (their numbers, 0 first) are if the chart is of this edition, whatever smooth
 * sensitivities the camera has in whatever smooth light: what no matrix can undo, a camera's colours being none of the eye's, is told
 * from a difference of editions by the spectra of the patches.
 */
export const editionEvidence = (
  edition: EditionSpectra,
  numbers: readonly number[],
  light: readonly Vector3[],
): number =>
  ([0, 1, 2] as const).reduce<number>(
    (sum, channel) =>
      sum +
      channelEvidence(
        edition,
        numbers,
        channel,
        light.map((one) => one[channel]),
      ),
    0,
  );
