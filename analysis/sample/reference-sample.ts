import type { FaceGrid } from "../rectify/resample.ts";
import type { ReferenceLayout } from "../reference-card.ts";
import type { FacePlace } from "./face-sample.ts";
import { lightIn } from "./light-in.ts";
import { placeInPhoto, type ReferenceSample, round } from "./photo-sample.ts";

/** The outer part of a patch that is left out: a corner a little off, light spilt over from the neighbour. */
const edgeShare = 0.2;

/**
 * The patches of a reference seen straight on (a grid of its whole sheet, fine against its patches): mean linear light,
 * place in the photo, and how much of the patch was lost to clipping. Patches of which nothing is left are not there.
 */
export const sampleReference = (
  id: string,
  layout: ReferenceLayout,
  grid: FaceGrid,
  { toPhoto, photoWidth, photoHeight }: FacePlace,
): ReferenceSample => ({
  kind: layout.kind,
  id,
  patches: layout.patches.flatMap(({ name, rectMm: [x, y, w, h] }) => {
    const dx = w * edgeShare;
    const dy = h * edgeShare;
    const light = lightIn(grid, grid.usable, x + dx, y + dy, x + w - dx, y + h - dy);
    if (!light) return [];
    const at = placeInPhoto(toPhoto([x + w / 2, y + h / 2]), photoWidth, photoHeight);
    return [{ name, rgb: light.rgb, spread: light.spread, at, lost: round(1 - light.counted / light.inside, 2) }];
  }),
});
