import { combine3, type Matrix3, multiply3, transpose3, type Vector3 } from "../algebra/matrix3.ts";
import { lab65Slopes, lab65ToXyz } from "../colour/lab.ts";
import type { CellSample, PartSample, PhotoSample } from "../sample/photo-sample.ts";
import { type SeenSpectrum, seenSpectrum } from "./camera-response.ts";
import { lightOf } from "./observed-light.ts";
import type { CovarianceBetween, ReckonedPart } from "./part-colours.ts";
import type { Tones } from "./tone-estimate.ts";
import { departure } from "./typical-camera.ts";
import type { WoodAsSeen } from "./wood-in-photo.ts";
import { woodSeenAs, woodToXyz } from "./wood-spectra.ts";

/** What a part's colour would be off by a camera's error. */
interface Exposed {
  readonly camera: string;
  /** Share of that camera's photos in the part's mean. */
  readonly share: number;
  /** Change of L, a, b with the strength of the camera's tone curve, times that share. */
  readonly toneSlope: Vector3;
}

/**
 * Errors that all photos of a camera have in common: what is not known of its response over the spectrum, and of its tone curve.
 * They change the distance of two colours, and hardly two that are nearly alike. Covariance in Lab.
 */
export const cameraErrors = (
  parts: readonly ReckonedPart[],
  photos: readonly PhotoSample[],
  tones: Tones,
  { cameras }: WoodAsSeen,
): CovarianceBetween => {
  const slopes = photos.map((photo) => toneSlopes(photo, tones));
  const woods = parts.map(({ camera }) => seenSpectrum(departure, woodSeenAs(camera)));
  const fromCamera = parts.map(({ lab }) => multiply3(lab65Slopes(lab65ToXyz(lab)), woodToXyz));
  const exposed = parts.map((part) => exposedTo(part, photos, slopes));
  const response = (camera: string, one: SeenSpectrum, other: SeenSpectrum) =>
    cameras.get(camera)?.covariance(one, other) ?? 0;
  return (one, other) => {
    let sum: Matrix3 = [0, 0, 0, 0, 0, 0, 0, 0, 0];
    for (const a of exposed[one]!)
      for (const b of exposed[other]!) {
        if (a.camera !== b.camera) continue;
        const seen = multiply3(fromCamera[one]!, transpose3(fromCamera[other]!));
        sum = combine3(sum, seen, a.share * b.share * response(a.camera, woods[one]!, woods[other]!));
        const tone = (tones.get(a.camera)?.uncertainty ?? 0) ** 2;
        sum = combine3(sum, outer(a.toneSlope, b.toneSlope), tone);
      }
    return sum;
  };
};

const outer = ([x, y, z]: Vector3, [u, v, w]: Vector3): Matrix3 => [
  x * u,
  x * v,
  x * w,
  y * u,
  y * v,
  y * w,
  z * u,
  z * v,
  z * w,
];

const exposedTo = (
  { part: { leaf, face, name }, slopes, photos: shares }: ReckonedPart,
  photos: readonly PhotoSample[],
  toneSlopesOf: readonly ReadonlyMap<string, Vector3>[],
): readonly Exposed[] => {
  const byCamera = new Map<string, { share: number; toneSlope: [number, number, number] }>();
  for (const [photo, share] of shares) {
    const { camera } = photos[photo]!;
    const entry = byCamera.get(camera) ?? { share: 0, toneSlope: [0, 0, 0] };
    byCamera.set(camera, entry);
    entry.share += share;
    const [l, w, t] = toneSlopesOf[photo]!.get(`${leaf}/${face}/${name}`) ?? [0, 0, 0];
    for (const k of [0, 1, 2] as const)
      entry.toneSlope[k] += share * (slopes[3 * k]! * l + slopes[3 * k + 1]! * w + slopes[3 * k + 2]! * t);
  }
  return [...byCamera].map(([camera, entry]) => ({ camera, ...entry }));
};

/** Small change of the strength over which its effect is told. */
const step = 0.02;

/** How the logarithms of each part's light in a photo move with the strength of its tone, less what the photo's gain takes up. */
const toneSlopes = (
  { camera, encoding, faces, references }: PhotoSample,
  tones: Tones,
): ReadonlyMap<string, Vector3> => {
  const strength = tones.get(camera)?.strength ?? 0;
  const [less, more] = [lightOf(encoding, strength - step), lightOf(encoding, strength + step)];
  const slope = (rgb: Vector3, spread: number): Vector3 => {
    const [low, high] = [less(rgb, spread), more(rgb, spread)];
    return [0, 1, 2].map((k) => (high[k]! - low[k]!) / (2 * step)) as unknown as Vector3;
  };
  const ofParts = faces.flatMap(({ leaf, face, parts }) =>
    parts.map((part) => [`${leaf}/${face}/${part.name}`, slope(...meanLight(part))] as const),
  );
  const ofGreys = references.flatMap(({ kind, patches }) =>
    kind === "grey" ? patches.map(({ rgb, spread }) => slope(rgb, spread)) : [],
  );
  const taken = ofGreys.length > 0 ? ofGreys : ofParts.map(([, value]) => value);
  const mean = (k: 0 | 1 | 2) => taken.reduce((sum, value) => sum + value[k], 0) / taken.length;
  return new Map(ofParts.map(([name, [l, w, t]]) => [name, [l - mean(0), w - mean(1), t - mean(2)]]));
};

/** Mean linear RGB and spread of a part's cells. */
export const meanLight = ({ cells }: PartSample): [rgb: Vector3, spread: number] => {
  const mean = (k: 1 | 2 | 3 | 4) => cells.reduce((sum: number, cell: CellSample) => sum + cell[k], 0) / cells.length;
  return [[mean(1), mean(2), mean(3)], mean(4)];
};
