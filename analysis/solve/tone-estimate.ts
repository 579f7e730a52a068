import { addTo, factorEnvelope, makeEnvelope, solveFactored } from "../algebra/envelope-cholesky.ts";
import type { Vector3 } from "../algebra/matrix3.ts";
import type { PhotoSample } from "../sample/photo-sample.ts";
import { isGrey, type KnownReferences, logOfLab } from "./known-references.ts";
import { logChannels, toCameraChannels } from "./log-channels.ts";
import { model } from "./model-constants.ts";
import { type PrintedStep, printedSteps } from "./printed-steps.ts";
import { type FigurePair, sharedFigure } from "./shared-figure.ts";
import { figureGain, undoToneOfRgb } from "./tone.ts";

/** Strength of the tone curve of every camera, with its standard uncertainty. */
export type Tones = ReadonlyMap<string, { readonly strength: number; readonly uncertainty: number }>;

/**
 * The tone curve of each camera: from the grey steps of charts, and from figure of the wood that two photos show
 * (its contrast must come out the same in both) and from printed cards (a print is the same in all photos of its card), on
 * top of what phones usually do. Linearised three times.
 */
export const estimateTones = (photos: readonly PhotoSample[], known: KnownReferences): Tones => {
  const cameras = [...new Set(photos.map(({ camera }) => camera))];
  const figures = sharedFigure(photos);
  const steps = printedSteps(photos);
  const prints = [...new Set(steps.map(({ print }) => print))].map((name) =>
    steps.filter(({ print }) => print === name),
  );
  let strengths = cameras.map(() => model.tone.mean as number);
  let uncertainties = cameras.map(() => model.tone.spread as number);
  for (let round = 0; round < 3; round++) {
    const size = cameras.length;
    const normal = makeEnvelope(new Int32Array(size));
    const right = new Float64Array(size);
    const weight = 1 / model.tone.spread ** 2;
    for (let i = 0; i < size; i++) {
      addTo(normal, i, i, weight);
      right[i] = weight * (model.tone.mean - strengths[i]!);
    }
    for (const photo of photos) {
      const i = cameras.indexOf(photo.camera);
      const { information, pull } = greyEvidence(photo, known, strengths[i]!);
      addTo(normal, i, i, information);
      right[i]! += pull;
    }
    for (const pair of figures) addFigure(pair, cameras, strengths, normal, right);
    for (const print of prints) addPrint(print, cameras, strengths, normal, right);
    const factored = factorEnvelope(normal);
    if (factored.kind !== "factored") break;
    uncertainties = cameras.map((_, i) => {
      const unit = new Float64Array(size);
      unit[i] = 1;
      return Math.sqrt(solveFactored(factored.factor, unit)[i]!);
    });
    const change = solveFactored(factored.factor, right);
    strengths = strengths.map((strength, i) => Math.max(-0.5, Math.min(1, strength + change[i]!)));
  }
  return new Map(cameras.map((camera, i) => [camera, { strength: strengths[i]!, uncertainty: uncertainties[i]! }]));
};

/** Small change of the strength over which its effect is told. */
const step = 0.02;

/**
 * What the grey steps of a photo's charts say: residual and its slope by the strength, the gain of the photo and a slope
 * of light over the chart left free within their usual spread.
 */
const greyEvidence = (photo: PhotoSample, known: KnownReferences, strength: number) => {
  let information = 0;
  let pull = 0;
  const toCamera = toCameraChannels(photo.encoding);
  const light = (rgb: Vector3, spread: number, s: number) => logChannels(toCamera, undoToneOfRgb(rgb, spread, s))[0];
  for (const { id, patches } of photo.references) {
    const greys = patches.flatMap(({ name, rgb, spread, at, lost }) => {
      const lab = known[id]?.[name];
      if (!lab || !isGrey(lab) || lost > model.lostPatch) return [];
      const slope = (light(rgb, spread, strength + step) - light(rgb, spread, strength - step)) / (2 * step);
      return [{ residual: logOfLab(lab)[0] - light(rgb, spread, strength), slope, at }];
    });
    if (greys.length < 3) continue;
    const [right, down] = model.field.lightness;
    const covariance = makeEnvelope(new Int32Array(greys.length));
    greys.forEach((one, i) => {
      greys.slice(0, i + 1).forEach((other, j) => {
        const shared = 1 + right * one.at[0] * (right * other.at[0]) + down * one.at[1] * (down * other.at[1]);
        addTo(covariance, i, j, shared + (i === j ? model.toneGreyNoise ** 2 : 0));
      });
    });
    const factored = factorEnvelope(covariance);
    if (factored.kind !== "factored") continue;
    const weighted = solveFactored(
      factored.factor,
      Float64Array.from(greys, ({ slope }) => slope),
    );
    greys.forEach(({ residual, slope }, i) => {
      information += weighted[i]! * slope;
      pull += weighted[i]! * residual;
    });
  }
  return { information, pull };
};

/** Contrast of figure seen in two photos: its log ratio must vanish once both tones are undone. */
const addFigure = (
  { cameras: pair, lights, logRatio }: FigurePair,
  cameras: readonly string[],
  strengths: readonly number[],
  normal: ReturnType<typeof makeEnvelope>,
  right: Float64Array,
): void => {
  const [i, j] = pair.map((camera) => cameras.indexOf(camera)) as [number, number];
  const gain = (light: number, strength: number) => Math.log(figureGain(light, strength));
  const slope = (light: number, s: number) => (gain(light, s + step) - gain(light, s - step)) / (2 * step);
  const residual = -(logRatio + gain(lights[0], strengths[i]!) - gain(lights[1], strengths[j]!));
  const a = slope(lights[0], strengths[i]!);
  const b = -slope(lights[1], strengths[j]!);
  const weight = 1 / model.toneFigureNoise ** 2;
  addTo(normal, i, i, weight * a * a);
  addTo(normal, j, j, weight * b * b);
  addTo(normal, i, j, weight * a * b);
  right[i]! += weight * a * residual;
  right[j]! += weight * b * residual;
};

/** A print seen in several photos: how dark it came out is unknown about the nominal, and the same in all once tones are undone. */
const addPrint = (
  seen: readonly PrintedStep[],
  cameras: readonly string[],
  strengths: readonly number[],
  normal: ReturnType<typeof makeEnvelope>,
  right: Float64Array,
): void => {
  const variance = 2 * model.toneGreyNoise ** 2;
  const shared = 1 / (seen.length + variance / model.printedPatch.lightness ** 2);
  const slopeSums = new Float64Array(cameras.length);
  let missSum = 0;
  for (const { camera, nominal, seen: at } of seen) {
    const i = cameras.indexOf(camera);
    const strength = strengths[i]!;
    const slope = (at(strength + step) - at(strength - step)) / (2 * step);
    const miss = nominal - at(strength);
    addTo(normal, i, i, (slope * slope) / variance);
    right[i]! += (slope * miss) / variance;
    slopeSums[i]! += slope;
    missSum += miss;
  }
  slopeSums.forEach((one, i) => {
    right[i]! -= (shared * one * missSum) / variance;
    for (let j = 0; j <= i; j++) addTo(normal, i, j, (-shared * one * slopeSums[j]!) / variance);
  });
};
