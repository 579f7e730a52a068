import { addTo, type Envelope, factorEnvelope, makeEnvelope, solveFactored } from "../algebra/envelope-cholesky.ts";
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
  /** Root mean square of what is left between patches and the curves drawn to the others, as a share of light; null without patches. */
  readonly leftOut: number | null;
  /** Covariance of the errors a channel makes of two reflectances, in its own units; each channel's errors are its own. */
  readonly covariance: (one: SeenSpectrum, other: SeenSpectrum) => number;
}

/**
 * A camera's response from patches: the curves from before, drawn to what was seen, each channel by itself. `own` is the size
 * of a departure as a share of the curves, `noise` the error of a patch as a share of its light. Curves and covariance are
 * those of a Gaussian process (kriging) after its observations; where the patches agree less than their error says, the
 * covariance grows by as much.
 * Source: Rasmussen and Williams, Gaussian Processes for Machine Learning, 2.23, 2.24 and 5.12 (from memory).
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
    addTo(matrix, i, i, (noise * lightOf(one)) ** 2);
  });
  const factored = factorEnvelope(matrix);
  if (seen.length === 0 || factored.kind !== "factored") return { curves: before, covariance: prior, leftOut: null };
  const { factor } = factored;
  const misses = before.map((curve, k) =>
    Float64Array.from(seen, ({ spectrum, camera }) => camera[k]! - dot(curve, spectrum)),
  );
  const pulled = misses.map((miss) => solveFactored(factor, miss.slice()));
  const drawn = (k: 0 | 1 | 2): Spectrum =>
    before[k].map(
      (value, n) => value + variance * seen.reduce((sum, one, i) => sum + one.departure[n]! * pulled[k]![i]!, 0),
    );
  const surprise = misses.reduce(
    (sum, miss, k) => sum + miss.reduce((own, value, i) => own + value * pulled[k]![i]!, 0),
    0,
  );
  const grown = Math.max(1, surprise / (3 * seen.length));
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
    curves: [drawn(0), drawn(1), drawn(2)],
    leftOut: leftOut(factor, seen, pulled),
    covariance: (one, other) => {
      const { pull } = pullOf(one);
      const along = pullOf(other).with;
      let explained = 0;
      for (let i = 0; i < along.length; i++) explained += pull[i]! * along[i]!;
      return grown * (prior(one, other) - explained);
    },
  };
};

const leftOut = (factor: Envelope, seen: readonly SeenPatch[], pulled: readonly Float64Array[]): number => {
  let sum = 0;
  seen.forEach((patch, i) => {
    const unit = new Float64Array(seen.length);
    unit[i] = 1;
    const own = solveFactored(factor, unit)[i]!;
    for (const pull of pulled) sum += (pull[i]! / own / lightOf(patch)) ** 2;
  });
  return Math.sqrt(sum / (pulled.length * seen.length));
};

const lightOf = ({ camera: [red, green, blue] }: SeenPatch): number => (red + green + blue) / 3 + darkest;

/** Light below which a patch's error no longer shrinks with it: flare and noise. */
const darkest = 0.02;
