import type { PartKind } from "../leaf-parts.ts";
import type { Encoding } from "../pixels.ts";

/** What one photo measured, in plain data: all that the adjustment of a delivery wants to know of it. */
export interface PhotoSample {
  readonly photo: string;
  /** Photos of one camera and one encoding share their tone curve and colour matrix: model name and encoding will do. */
  readonly camera: string;
  readonly encoding: Encoding;
  /** Photos a person says were taken at one stand in one light. Left out: the adjustment finds out by itself. */
  readonly setUp?: string;
  /** Linear light 0..1 that a fiftieth of the photo exceeds: white paint, plaster, paper. Left out: not known. */
  readonly brightest?: number;
  readonly faces: readonly FaceSample[];
  readonly references: readonly ReferenceSample[];
}

export interface FaceSample {
  readonly leaf: string;
  readonly face: string;
  readonly parts: readonly PartSample[];
}

export interface PartSample {
  readonly name: string;
  readonly kind: PartKind;
  readonly grain: "v" | "h";
  /** How many cells make a row of the part. */
  readonly columns: number;
  readonly cells: readonly CellSample[];
}

/**
 * A piece of a part, about 60 mm square; a tuple, since a delivery holds some hundred thousand of them.
 * `cell` is its number in the part, row by row, the same in every photo that shows the part. `red`, `green`, `blue`:
 * mean linear light 0..1 in the photo's own primaries. `spread`: standard deviation inside over mean, of the green light
 * (a changed tone curve needs it). `right`, `down`: its place from the photo's centre in half diagonals. `share`: how
 * much of it was seen, 0..1.
 */
export type CellSample = readonly [
  cell: number,
  red: number,
  green: number,
  blue: number,
  spread: number,
  right: number,
  down: number,
  share: number,
];

/** A reference in the photo, by its id: a chart's edition, a grey card, or the number of a printed card. */
export interface ReferenceSample {
  readonly kind: "card" | "chart" | "grey";
  readonly id: string;
  readonly patches: readonly PatchSample[];
}

export interface PatchSample {
  readonly name: string;
  /** Mean linear light 0..1 in the photo's own primaries. */
  readonly rgb: Triple;
  readonly spread: number;
  readonly at: readonly [number, number];
  /** Share of the patch that was clipped or outside the photo, 0..1. */
  readonly lost: number;
}

export type Triple = readonly [number, number, number];

/** Right and down from the centre of a photo in half diagonals, for a place in px. */
export const placeInPhoto = (
  [x, y]: readonly [number, number],
  width: number,
  height: number,
): readonly [number, number] => {
  const half = Math.hypot(width, height) / 2;
  return [round((x - width / 2) / half, 4), round((y - height / 2) / half, 4)];
};

/** Digits enough for what is measured, few enough for the disk. */
export const round = (value: number, digits: number): number => Number(value.toFixed(digits));
