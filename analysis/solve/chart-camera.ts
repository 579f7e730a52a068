import { addTo, factorEnvelope, makeEnvelope, solveFactored } from "../algebra/envelope-cholesky.ts";
import { apply3, type Vector3 } from "../algebra/matrix3.ts";
import { srgbToXyz } from "../colour/encoding.ts";
import { type Lab65, lab65Slopes, lab65ToXyz, xyzToLab65 } from "../colour/lab.ts";
import { undoToneOfRgb } from "./tone.ts";

/** A patch as a photo shows it, beside the colour it should have. `at`: place from the chart's middle, half diagonals of the photo. */
export interface ChartPatch {
  readonly rgb: Vector3;
  readonly spread: number;
  readonly at: readonly [number, number];
  readonly lab: Lab65;
}

/**
 * Freedom of a camera between chart and photo, as spreads about the usual: strength of the tone curve (what phones do), slope
 * of light over the chart a half diagonal (a window to one side), stray light as a share of white (lens flare), and
 * root-polynomial terms beside the matrix. The terms stand for what no matrix can undo, a camera's sensitivities being none of
 * the eye's: on photos rendered from spectra they bring what is left of a chart from 1.2 to 2.9 down to 0.3 to 0.8.
 */
const usual = { tone: 0.15 } as const;
const freedom = { matrix: 10, rootTerm: 0.3, slope: [0.2, 0.15], stray: 0.005, tone: 0.2 } as const;

/** A matrix of three rows over six terms, slopes of light right and down, stray light, tone. */
const unknowns = 22;
const [slopeAt, strayAt, toneAt] = [18, 20, 21] as const;

const spreads = Float64Array.from({ length: unknowns }, (_, i) => {
  if (i === toneAt) return freedom.tone;
  if (i === strayAt) return freedom.stray;
  if (i >= slopeAt) return freedom.slope[i - slopeAt]!;
  return i % 6 < 3 ? freedom.matrix : freedom.rootTerm;
});

/** Takes light as it is, but for the usual tone. */
const usualCamera = Float64Array.from({ length: unknowns }, (_, i) => {
  if (i === toneAt) return usual.tone;
  return i < slopeAt && i % 7 === 0 ? 1 : 0;
});

/**
 * Red, green, blue and the roots of their products: they keep their proportions when the light grows.
 * Source: Finlayson, Mackiewicz and Hurlbert 2015, root-polynomial colour correction, second degree (from memory).
 */
const termsOf = ([red, green, blue]: Vector3): number[] => {
  const [r, g, b] = [Math.max(red, 1e-5), Math.max(green, 1e-5), Math.max(blue, 1e-5)];
  return [r, g, b, Math.sqrt(r * g), Math.sqrt(g * b), Math.sqrt(b * r)];
};

/** The light of a patch once tone, stray light and slope are taken off; `gain` brings a white to about 1. */
const lightSeen = ({ rgb, spread, at }: ChartPatch, camera: Float64Array, gain: number): Vector3 => {
  const [red, green, blue] = undoToneOfRgb(rgb, spread, camera[toneAt]!);
  const level = Math.exp(-(camera[slopeAt]! * at[0] + camera[slopeAt + 1]! * at[1]));
  const clean = (light: number) => level * (gain * light - camera[strayAt]!);
  return [clean(red), clean(green), clean(blue)];
};

const termsSeen = (patch: ChartPatch, camera: Float64Array, gain: number): number[] =>
  termsOf(lightSeen(patch, camera, gain));

const xyzOf = (terms: readonly number[], camera: Float64Array): Vector3 => {
  const row = (k: number) => terms.reduce((sum, term, j) => sum + camera[6 * k + j]! * term, 0);
  return apply3(srgbToXyz, [row(0), row(1), row(2)]);
};

/** Change of an unknown over which its effect is told. */
const step = 1e-4;

/** How the Lab of a patch moves with each unknown, and how far it is from what it should be. */
const linearised = (patch: ChartPatch, camera: Float64Array, gain: number) => {
  const terms = termsSeen(patch, camera, gain);
  const xyz = xyzOf(terms, camera);
  const toLab = lab65Slopes(xyz);
  const lab = xyzToLab65(xyz);
  const left: Vector3 = [patch.lab[0] - lab[0], patch.lab[1] - lab[1], patch.lab[2] - lab[2]];
  const moves = Array.from({ length: unknowns }, (_, i): Vector3 => {
    if (i < slopeAt) {
      const [row, term] = [Math.floor(i / 6), terms[i % 6]!];
      return apply3(toLab, [srgbToXyz[row]! * term, srgbToXyz[row + 3]! * term, srgbToXyz[row + 6]! * term]);
    }
    const moved = Float64Array.from(camera);
    moved[i]! += step;
    const [x, y, z] = xyzOf(termsSeen(patch, moved, gain), moved);
    return apply3(toLab, [(x - xyz[0]) / step, (y - xyz[1]) / step, (z - xyz[2]) / step]);
  });
  return { moves, left };
};

const dot = (one: Vector3, other: Vector3): number => one[0] * other[0] + one[1] * other[1] + one[2] * other[2];

/** One step of Gauss and Newton: the change of camera that brings the patches nearest, held to the usual; null where nothing can be told. */
const nextStep = (all: readonly ReturnType<typeof linearised>[], camera: Float64Array): Float64Array | null => {
  const normal = makeEnvelope(new Int32Array(unknowns));
  const right = new Float64Array(unknowns);
  for (let i = 0; i < unknowns; i++) {
    addTo(normal, i, i, 1 / spreads[i]! ** 2);
    right[i]! += (usualCamera[i]! - camera[i]!) / spreads[i]! ** 2;
  }
  for (const { moves, left } of all)
    moves.forEach((move, i) => {
      right[i]! += dot(move, left);
      for (let j = 0; j <= i; j++) addTo(normal, i, j, dot(move, moves[j]!));
    });
  const factored = factorEnvelope(normal);
  return factored.kind === "factored" ? solveFactored(factored.factor, right) : null;
};

/** Rounds after which the sum of squares stands still to a hundredth: three did on all photos tried, with one to spare. */
const rounds = 4;

/** A chart as the camera that suits it best shows it. */
export interface ChartFit {
  /** Sum of squares, CIELAB units, of what is left between patches and colours; infinite where nothing can be told. */
  readonly squares: number;
  /** Light of each patch in the photo's channels, white about 1: tone, stray light and slope taken off. */
  readonly light: readonly Vector3[];
}

/**
 * Fits the camera that brings a chart's patches nearest to their colours: an error of 1 CIELAB unit a patch weighed against the
 * freedom of the camera.
 */
export const fitChartCamera = (patches: readonly ChartPatch[]): ChartFit => {
  const seen = patches.reduce((sum, { rgb }) => sum + rgb[1], 0);
  const gain = patches.reduce((sum, { lab }) => sum + lab65ToXyz(lab)[1], 0) / seen;
  let camera = usualCamera;
  for (let round = 0; ; round++) {
    const all = patches.map((patch) => linearised(patch, camera, gain));
    const change = round === rounds ? null : nextStep(all, camera);
    if (!change)
      return {
        squares: round === rounds ? all.reduce((sum, { left }) => sum + dot(left, left), 0) : Number.POSITIVE_INFINITY,
        light: patches.map((patch) => lightSeen(patch, camera, gain)),
      };
    camera = camera.map((value, i) => value + change[i]!);
  }
};
