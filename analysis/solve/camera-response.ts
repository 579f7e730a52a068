import { addTo, factorEnvelope, makeEnvelope, solveFactored } from "../algebra/envelope-cholesky.ts";
import type { Vector3 } from "../algebra/matrix3.ts";
import { dot, type Spectrum, wavelengths } from "../colour/spectra.ts";

/** What a camera's channels make of a reflectance under some light: each a sum over the spectrum, 1 for white. */
export type Curves = readonly [red: Spectrum, green: Spectrum, blue: Spectrum];

/** Covariance, at two wavelengths, of the departure of a channel's curve from another camera's: times a spectrum, a spectrum. */
export type Departures = (reflectance: Spectrum) => Spectrum;

/** Departures of the size of the curves themselves, smooth over `smoothNm`, nil for white: white balance sees to that. */
export const departures = (curves: Curves, smoothNm: number): Departures => {
  const size = wavelengths.map((_, i) => curves[0][i]! + curves[1][i]! + curves[2][i]!);
  const free = wavelengths.map((one, i) =>
    wavelengths.map((other, j) => size[i]! * size[j]! * Math.exp(-0.5 * ((one - other) / smoothNm) ** 2)),
  );
  const ofWhite = free.map((row) => row.reduce((a, b) => a + b, 0));
  const white = ofWhite.reduce((a, b) => a + b, 0);
  const covariance = free.map((row, i) => row.map((value, j) => value - (ofWhite[i]! * ofWhite[j]!) / white));
  return (reflectance) => covariance.map((row) => dot(row, reflectance));
};

/** A reflectance with what a departure of unit size makes of it. */
export interface SeenSpectrum {
  readonly spectrum: Spectrum;
  readonly departure: Spectrum;
}

export const seenSpectrum = (departure: Departures, spectrum: Spectrum): SeenSpectrum => ({
  spectrum,
  departure: departure(spectrum),
});

/** A patch of a known spectrum, as a camera's channels saw it once its light was taken off. */
export interface SeenPatch extends SeenSpectrum {
  readonly camera: Vector3;
}

export interface Response {
  readonly curves: Curves;
  /** Covariance of the errors a channel makes of two reflectances, in its own units; each channel's errors are its own. */
  readonly covariance: (one: SeenSpectrum, other: SeenSpectrum) => number;
}

/**
 * A camera's response from patches: the curves from before, drawn to what was seen, each channel by itself. `own` is the size
 * of a departure as a share of the curves, `noise` the error of a patch as a share of its light. Curves and covariance are
 * those of a Gaussian process (kriging) after its observations.
 * Source: Rasmussen and Williams, Gaussian Processes for Machine Learning, 2.23 and 2.24 (from memory).
 */
export const drawResponse = (
  before: Curves,
  seen: readonly SeenPatch[],
  { own, noise }: { readonly own: number; readonly noise: number },
): Response => {
  const variance = own ** 2;
  const prior = (one: SeenSpectrum, other: SeenSpectrum) => variance * dot(one.departure, other.spectrum);
  const matrix = makeEnvelope(new Int32Array(seen.length));
  seen.forEach((one, i) => {
    for (let j = 0; j <= i; j++) addTo(matrix, i, j, prior(one, seen[j]!));
    const light = (one.camera[0] + one.camera[1] + one.camera[2]) / 3;
    addTo(matrix, i, i, (noise * (light + darkest)) ** 2);
  });
  const factored = factorEnvelope(matrix);
  if (seen.length === 0 || factored.kind !== "factored") return { curves: before, covariance: prior };
  const { factor } = factored;
  const drawn = (curve: Spectrum, k: 0 | 1 | 2): Spectrum => {
    const miss = Float64Array.from(seen, ({ spectrum, camera }) => camera[k] - dot(curve, spectrum));
    const pull = solveFactored(factor, miss);
    return curve.map(
      (value, n) => value + variance * seen.reduce((sum, one, i) => sum + one.departure[n]! * pull[i]!, 0),
    );
  };
  const pulls = new WeakMap<SeenSpectrum, { with: Float64Array; pull: Float64Array }>();
  const pullOf = (one: SeenSpectrum) => {
    const there = pulls.get(one);
    if (there) return there;
    const along = Float64Array.from(seen, (patch) => prior(patch, one));
    const made = { with: along, pull: solveFactored(factor, along.slice()) };
    pulls.set(one, made);
    return made;
  };
  return {
    curves: [drawn(before[0], 0), drawn(before[1], 1), drawn(before[2], 2)],
    covariance: (one, other) => {
      const { pull } = pullOf(one);
      const along = pullOf(other).with;
      let explained = 0;
      for (let i = 0; i < along.length; i++) explained += pull[i]! * along[i]!;
      return prior(one, other) - explained;
    },
  };
};

/** Light below which a patch's error no longer shrinks with it: flare and noise. */
const darkest = 0.02;
