import type { FaceLayout, Part, RectMm } from "../leaf-parts.ts";
import type { Point } from "../pixels.ts";
import { type Cover, withoutCovers } from "../rectify/covers.ts";
import type { FaceGrid } from "../rectify/resample.ts";
import { lightIn } from "./light-in.ts";
import { type CellSample, type FaceSample, placeInPhoto, round } from "./photo-sample.ts";

/** Where the face lies in its photo. */
export interface FacePlace {
  readonly toPhoto: (faceMm: Point) => Point;
  readonly photoWidth: number;
  readonly photoHeight: number;
}

export interface FaceSampling {
  /** Side a cell should have, mm: half a stile, so that a part has at least two across or twelve along. */
  readonly cellMm: number;
  /** What is left out along the edges of a part, mm: the joint, the moulding's shadow, an outline that is off by up to 10 mm in a line-up. */
  readonly insetMm: number;
  /** A cell counts when at least this share of it was seen. */
  readonly leastShare: number;
  /** A part with fewer cells than this is not measured. */
  readonly leastCells: number;
}

const faceSampling: FaceSampling = { cellMm: 60, insetMm: 12, leastShare: 0.25, leastCells: 2 };

/** Parts that were measured, and those of which too little was seen. */
export interface SampledFace {
  readonly sample: FaceSample;
  readonly tooFewCells: readonly string[];
}

/**
 * The cells of every part of a face seen straight on: mean linear light, place in the photo, share seen.
 * `covers` is left out with a margin of one inset.
 */
export const sampleFace = (
  face: { readonly leaf: string; readonly face: string },
  grid: FaceGrid,
  layout: FaceLayout,
  covers: readonly Cover[],
  place: FacePlace,
  settings: FaceSampling = faceSampling,
): SampledFace => {
  const { usable } = withoutCovers(grid, covers, settings.insetMm);
  const sampled = layout.parts.map((part) => {
    const { columns, places } = cellsOf(part, settings);
    return { part, columns, cells: places.flatMap((cell) => sampleCell(cell, grid, usable, place, settings)) };
  });
  const enough = sampled.filter(({ cells }) => cells.length >= settings.leastCells);
  return {
    sample: {
      ...face,
      parts: enough.map(({ part: { name, kind, grain }, columns, cells }) => ({ name, kind, grain, columns, cells })),
    },
    tooFewCells: sampled.filter(({ cells }) => cells.length < settings.leastCells).map(({ part }) => part.name),
  };
};

interface CellPlace {
  readonly cell: number;
  readonly rectMm: RectMm;
}

/** The part inside its inset, divided evenly into cells of about the wanted side. */
const cellsOf = ({ rectMm: [x, y, width, height] }: Part, { cellMm, insetMm }: FaceSampling) => {
  const w = width - 2 * insetMm;
  const h = height - 2 * insetMm;
  if (w <= 0 || h <= 0) return { columns: 1, places: [] };
  const columns = Math.max(1, Math.round(w / cellMm));
  const rows = Math.max(1, Math.round(h / cellMm));
  const places = Array.from({ length: rows * columns }, (_, cell): CellPlace => {
    const left = x + insetMm + (w / columns) * (cell % columns);
    const top = y + insetMm + (h / rows) * Math.floor(cell / columns);
    return { cell, rectMm: [left, top, w / columns, h / rows] };
  });
  return { columns, places };
};

/** No wood varies by more than this share of its light within one cell, pores of oak included; a glint or a fly does. */
const farthestLight = 0.9;

const sampleCell = (
  { cell, rectMm: [x, y, w, h] }: CellPlace,
  grid: FaceGrid,
  usable: Uint8Array,
  { toPhoto, photoWidth, photoHeight }: FacePlace,
  { leastShare }: FaceSampling,
): CellSample[] => {
  const light = lightIn(grid, usable, x, y, x + w, y + h, farthestLight);
  if (!light || light.counted < leastShare * light.inside) return [];
  const at = placeInPhoto(toPhoto([x + w / 2, y + h / 2]), photoWidth, photoHeight);
  return [[cell, ...light.rgb, light.spread, ...at, round(light.counted / light.inside, 2)]];
};
