import type { Pixels, Point, Quad } from "../pixels.ts";
import type { ReferenceLayout } from "../reference-card.ts";
import { type EvenPatch, evenPatches } from "./even-patches.ts";
import type { FoundReference } from "./found.ts";
import { shapeMisfit } from "./rectangle-shape.ts";
import { sharpenBorder } from "./sheet-border.ts";
import type { WorkingPicture } from "./working-picture.ts";

/** Spread of the log of length, of length over width and of fullness of a patch that is the card, seen askance and rough. */
const sizeSpread = 0.12;
const ratioSpread = 0.1;
const fullSpread = 0.06;

/** Spread of the lean of a card against upright or level, radians: it is stood up or held by hand, boxes lie as they fall. */
const leanSpread = 0.2;

/** Least code of the card against the picture's brightest twentieth: 18 % grey beside white is at a half, black paint at a fifth. */
const leastBrightness = 0.3;

/** Colour cast, greatest less least channel over their mean, at which a patch counts half: lamps give a grey card up to 0.3. */
const halfCast = 0.4;

/** Least score of a card, 0 to 1. */
const leastScore = 0.3;

/**
 * The grey card of this layout: an even, nearly neutral patch of its shape and, when leaves tell the scale, of its size.
 * `pxPerMm` is the photo's scale about the leaves, or null. Its long side is its height; which end is up cannot be told.
 */
export const findGreyCard = (
  pixels: Pixels,
  picture: WorkingPicture,
  layout: ReferenceLayout,
  pxPerMm: number | null,
): FoundReference | null => {
  const scale = pxPerMm === null ? null : pxPerMm / picture.block;
  const darkest = leastBrightness * brightest(picture);
  const ranked = evenPatches(picture)
    .filter(({ colour }) => colour[1] > darkest)
    .map((patch) => ({ patch, score: likelihood(patch, layout, scale) }))
    .filter(({ score }) => score > leastScore)
    .sort((a, b) => b.score - a.score)
    .slice(0, 3);
  let best: FoundReference | null = null;
  for (const { patch, score } of ranked) {
    const size = scale === null ? ownSize(patch, layout) : layout;
    const corners = sharpenBorder(pixels, roughCorners(patch, picture.block, size), size);
    const misfit = scale === null ? 0 : shapeMisfit(corners, pixels, size.widthMm, size.heightMm);
    const shaped = score * Math.exp(-misfit / 40);
    if (shaped > leastScore && shaped > (best?.score ?? 0)) {
      best = { kind: "grey", id: null, corners, score: shaped, byHand: false };
    }
  }
  return best;
};

/** In a close-up people hold whatever piece of grey card is at hand: the layout's long side, the patch's own proportions. */
const ownSize = (patch: EvenPatch, { widthMm, heightMm }: ReferenceLayout): Size =>
  heightMm >= widthMm
    ? { widthMm: (heightMm * patch.shortPx) / patch.longPx, heightMm }
    : { widthMm, heightMm: (widthMm * patch.shortPx) / patch.longPx };

interface Size {
  readonly widthMm: number;
  readonly heightMm: number;
}

const likelihood = (patch: EvenPatch, { widthMm, heightMm }: ReferenceLayout, scale: number | null): number => {
  const long = Math.max(widthMm, heightMm);
  const short = Math.min(widthMm, heightMm);
  const size = scale === null ? 0 : Math.log(patch.longPx / (long * scale)) / sizeSpread;
  const ratio = Math.log((patch.longPx * short) / (patch.shortPx * long)) / ratioSpread;
  const full = Math.log(patch.fullness) / fullSpread;
  const lean = (patch.angle - (Math.PI / 2) * Math.round(patch.angle / (Math.PI / 2))) / leanSpread;
  const [r, g, b] = patch.colour;
  const cast = ((Math.max(r, g, b) - Math.min(r, g, b)) * 3) / (r + g + b + 1) / halfCast;
  return Math.exp(-(size * size + ratio * ratio + full * full + lean * lean) / 8) / (1 + cast * cast);
};

/** Green code that a twentieth of the picture exceeds. */
const brightest = ({ green }: WorkingPicture): number => {
  const sample: number[] = [];
  for (let i = 0; i < green.length; i += 101) sample.push(green[i]!);
  sample.sort((a, b) => a - b);
  return sample[Math.floor(0.95 * sample.length)] ?? 0;
};

/** Corners of the patch taken as a rectangle, photo px, its long side upright; from the corner that lies up and left. */
const roughCorners = (patch: EvenPatch, block: number, { widthMm, heightMm }: Size): Quad => {
  const upright = heightMm >= widthMm ? patch.angle : patch.angle - Math.PI / 2;
  const down: Point =
    Math.sin(upright) >= 0 ? [Math.cos(upright), Math.sin(upright)] : [-Math.cos(upright), -Math.sin(upright)];
  const right: Point = [down[1], -down[0]];
  const halfDown = (heightMm >= widthMm ? patch.longPx : patch.shortPx) / 2;
  const halfRight = (heightMm >= widthMm ? patch.shortPx : patch.longPx) / 2;
  const at = (u: number, v: number): Point => [
    (patch.middle[0] + u * halfRight * right[0] + v * halfDown * down[0]) * block,
    (patch.middle[1] + u * halfRight * right[1] + v * halfDown * down[1]) * block,
  ];
  return [at(-1, -1), at(1, -1), at(1, 1), at(-1, 1)];
};
