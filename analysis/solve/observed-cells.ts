import { apply3, type Vector3 } from "../algebra/matrix3.ts";
import type { PartSample, PhotoSample } from "../sample/photo-sample.ts";
import { placeTerms, writeTerms } from "./light-field.ts";
import { fromCameraLogs, logOfLight, toCameraChannels } from "./log-channels.ts";
import { toneUndone } from "./tone.ts";
import type { Tones } from "./tone-estimate.ts";

/** Lightness, warmth and tint, one value a cell. */
export type LogColumns = readonly [Float64Array, Float64Array, Float64Array];

/** One part as one photo shows it. */
export interface ObservedPart {
  /** Number of the photo. */
  readonly photo: number;
  readonly leaf: string;
  readonly face: string;
  readonly sample: PartSample;
  /** Its cells' places in the columns: from, up to but without. */
  readonly from: number;
  readonly to: number;
}

/** All cells of all photos, one part after the other, in columns: a delivery holds some hundred thousand of them. */
export interface ObservedCells {
  readonly parts: readonly ObservedPart[];
  /** Number of the piece of wood in its part. */
  readonly pieces: Int32Array;
  /** How much of it was seen, 0..1. */
  readonly shares: Float64Array;
  /** The place terms of its light, `placeTerms` a cell. */
  readonly terms: Float64Array;
  /** Logarithms of its light, the tone of its camera undone. */
  readonly logs: LogColumns;
}

/** Takes the cells of all photos into columns, the tones of their cameras undone. */
export const observeCells = (photos: readonly PhotoSample[], tones: Tones): ObservedCells => {
  const parts: ObservedPart[] = [];
  let count = 0;
  photos.forEach(({ faces }, photo) => {
    for (const { leaf, face, parts: sampled } of faces)
      for (const sample of sampled) {
        const from = count;
        count += sample.cells.length;
        parts.push({ photo, leaf, face, sample, from, to: count });
      }
  });
  const pieces = new Int32Array(count);
  const shares = new Float64Array(count);
  const terms = new Float64Array(placeTerms * count);
  const logs: LogColumns = [new Float64Array(count), new Float64Array(count), new Float64Array(count)];
  const undone = new Map([...tones].map(([camera, { strength }]) => [camera, toneUndone(strength)]));
  const asItIs = toneUndone(0);
  for (const { photo, sample, from } of parts) {
    const { encoding, camera } = photos[photo]!;
    const toCamera = toCameraChannels(encoding);
    const undo = undone.get(camera) ?? asItIs;
    sample.cells.forEach(([piece, red, green, blue, spread, right, down, share], i) => {
      const at = from + i;
      pieces[at] = piece;
      shares[at] = share;
      writeTerms(terms, placeTerms * at, right, down);
      const light: Vector3 = [undo(red, spread), undo(green, spread), undo(blue, spread)];
      const [r, g, b] = apply3(toCamera, light);
      const [lightness, warmth, tint] = fromCameraLogs([logOfLight(r), logOfLight(g), logOfLight(b)]);
      logs[0][at] = lightness;
      logs[1][at] = warmth;
      logs[2][at] = tint;
    });
  }
  return { parts, pieces, shares, terms, logs };
};
