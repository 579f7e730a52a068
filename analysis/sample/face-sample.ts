import type { FaceLayout, Part, RectMm } from "../leaf-parts.ts";
import type { Point } from "../pixels.ts";
import type { FaceGrid } from "../rectify/resample.ts";
import { lightIn } from "./light-in.ts";
import { type CellSample, type FaceSample, placeInPhoto, round } from "./photo-sample.ts";

/** Where the face lies in its photo. */
export interface FacePlace {
  readonly toPhoto: (faceMm: Point) => Point;
  readonly photoWidth: number;
  readonly photoHeight: number;
}

/** A four-cornered piece of the face that is not wood: a label, a card held on it, a mark. Corners in mm on the face. */
export type Cover = readonly Point[];

export interface FaceSampling {
  /** Side a cell should have, mm: half a stile, so that a part has at least two across or twelve along. */
  readonly cellMm: number;
  /** What is left out along the edges of a part, mm: the joint, the moulding's shadow, an outline a little off. */
  readonly insetMm: number;
  /** A cell counts when at least this share of it was seen. */
  readonly leastShare: number;
  /** A part with fewer cells than this is not measured. */
  readonly leastCells: number;
}

const faceSampling: FaceSampling = { cellMm: 60, insetMm: 6, leastShare: 0.25, leastCells: 2 };

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
  const usable = withoutCovers(grid, covers, settings.insetMm);
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

const withoutCovers = (
  { usable, width, height, mmPerCell }: FaceGrid,
  covers: readonly Cover[],
  marginMm: number,
): Uint8Array => {
  const out = usable.slice();
  for (const cover of covers) {
    const wide = widen(cover, marginMm);
    const xs = wide.map(([x]) => x / mmPerCell);
    const ys = wide.map(([, y]) => y / mmPerCell);
    for (let row = Math.max(0, Math.floor(Math.min(...ys))); row < Math.min(height, Math.max(...ys)); row++)
      for (let column = Math.max(0, Math.floor(Math.min(...xs))); column < Math.min(width, Math.max(...xs)); column++)
        if (inside(wide, [(column + 0.5) * mmPerCell, (row + 0.5) * mmPerCell])) out[row * width + column] = 0;
  }
  return out;
};

/** Corners moved away from their centre by the margin. */
const widen = (corners: Cover, marginMm: number): Point[] => {
  const cx = corners.reduce((sum, [x]) => sum + x, 0) / corners.length;
  const cy = corners.reduce((sum, [, y]) => sum + y, 0) / corners.length;
  return corners.map(([x, y]) => {
    const scale = 1 + (marginMm * Math.SQRT2) / (Math.hypot(x - cx, y - cy) || 1);
    return [cx + (x - cx) * scale, cy + (y - cy) * scale];
  });
};

const inside = (corners: readonly Point[], [x, y]: Point): boolean => {
  let odd = false;
  corners.forEach(([x1, y1], i) => {
    const [x2, y2] = corners[(i + 1) % corners.length]!;
    if (y1 > y !== y2 > y && x < x1 + ((y - y1) * (x2 - x1)) / (y2 - y1)) odd = !odd;
  });
  return odd;
};
