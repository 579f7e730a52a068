import type { FaceLayout, Part, RectMm } from "../leaf-parts.ts";
import type { Point } from "../pixels.ts";
import { type Cover, withoutCovers } from "../rectify/covers.ts";
import type { FaceGrid } from "../rectify/resample.ts";
import { seenLayout } from "../rectify/seen-joints.ts";
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
  /** What is left out along the edges of a part, mm: outline and joints are known to 3 each, and light spills over two px, 4 in a line-up. */
  readonly insetMm: number;
  /** A cell counts when at least this share of it was seen. */
  readonly leastShare: number;
  /** A part with fewer cells than this is not measured. */
  readonly leastCells: number;
}

const faceSampling: FaceSampling = { cellMm: 60, insetMm: 10, leastShare: 0.25, leastCells: 2 };

/** Parts that were measured, and those of which too little was seen. */
export interface SampledFace {
  readonly sample: FaceSample;
  readonly tooFewCells: readonly string[];
}

/**
 * The cells of every part of a face seen straight on: mean linear light, place in the photo, share seen.
 * The parts lie where their joints are seen (seen-joints.ts). `covers` is left out with a margin of one inset.
 */
export const sampleFace = (
  face: { readonly leaf: string; readonly face: string },
  grid: FaceGrid,
  layout: FaceLayout,
  covers: readonly Cover[],
  place: FacePlace,
  settings: FaceSampling = faceSampling,
): SampledFace => {
  const wood = withoutCovers(grid, covers, settings.insetMm);
  const seen = seenLayout(wood, layout).layout;
  const sampled = layout.parts.map((part, i) => {
    const { columns, places } = cellsOf(part, seen.parts[i] ?? part, settings);
    return { part, columns, cells: places.flatMap((cell) => sampleCell(cell, wood, place, settings)) };
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

/** Cells of about the wanted side: how many the ordered part tells, so that a number means the same wood in every photo; where they lie the seen one. */
const cellsOf = (ordered: Part, seen: Part, { cellMm, insetMm }: FaceSampling) => {
  const [, , orderedWidth, orderedHeight] = ordered.rectMm;
  const [x, y, width, height] = seen.rectMm;
  const w = width - 2 * insetMm;
  const h = height - 2 * insetMm;
  if (w <= 0 || h <= 0) return { columns: 1, places: [] };
  const columns = Math.max(1, Math.round((orderedWidth - 2 * insetMm) / cellMm));
  const rows = Math.max(1, Math.round((orderedHeight - 2 * insetMm) / cellMm));
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
  { toPhoto, photoWidth, photoHeight }: FacePlace,
  { leastShare }: FaceSampling,
): CellSample[] => {
  const light = lightIn(grid, grid.usable, x, y, x + w, y + h, farthestLight);
  if (!light || light.counted < leastShare * light.inside) return [];
  const at = placeInPhoto(toPhoto([x + w / 2, y + h / 2]), photoWidth, photoHeight);
  return [[cell, ...light.rgb, light.spread, ...at, round(light.counted / light.inside, 2)]];
};
