import type { Pixels, Point, Quad } from "../pixels.ts";
import { cornersMm, type ReferenceLayout } from "../reference-card.ts";
import { type ManyHues, manyHues } from "./colour-patch-area.ts";
import type { FoundReference } from "./found.ts";
import { sharpenBorder } from "./sheet-border.ts";
import type { WorkingPicture } from "./working-picture.ts";

/**
 * The 24 patches as 8-bit sRGB, row by row from the brown one: to tell the chart and its orientation by, never to measure
 * by. From memory, rounded; editions differ by far less than two patches do.
 */
const patchCodes: readonly (readonly [number, number, number])[] = [
  [115, 82, 68],
  [194, 150, 130],
  [98, 122, 157],
  [87, 108, 67],
  [133, 128, 177],
  [103, 189, 170],
  [214, 126, 44],
  [80, 91, 166],
  [193, 90, 99],
  [94, 60, 108],
  [157, 188, 64],
  [224, 163, 46],
  [56, 61, 150],
  [70, 148, 73],
  [175, 54, 60],
  [231, 199, 31],
  [187, 86, 149],
  [8, 133, 161],
  [243, 243, 242],
  [200, 200, 200],
  [160, 160, 160],
  [122, 122, 121],
  [85, 85, 85],
  [52, 52, 52],
];

/** Least likeness (mean correlation of the three channels less the unevenness inside patches) of a chart. */
const leastLikeness = 0.75;

/** From this likeness on, no other place is tried. */
const sureLikeness = 0.95;

/** The 24-patch chart of this layout, when it is in the picture; its first corner is that of the brown patch. */
export const findChart = (pixels: Pixels, picture: WorkingPicture, layout: ReferenceLayout): FoundReference | null => {
  let best: { corners: Quad; likeness: number } | null = null;
  for (const area of manyHues(picture)) {
    for (const rough of searchArea(pixels, picture.block, area, layout)) {
      if (best !== null && best.likeness > sureLikeness) break;
      const polished = polish(pixels, rough, layout);
      if (best === null || polished.likeness > best.likeness) best = polished;
    }
    if (best !== null && best.likeness > sureLikeness) break;
  }
  if (best === null || best.likeness < leastLikeness) return null;
  const corners = sharpenBorder(pixels, best.corners, layout);
  return { kind: "chart", id: null, corners, score: best.likeness, byHand: false };
};

/** Starts that are worth polishing, one for each size tried. */
const mostStarts = 3;

/** Tries places, sizes, slants and both ways up about an area of many hues; the best of each size, best first. */
const searchArea = (
  pixels: Pixels,
  block: number,
  { middle, angle, longPx }: ManyHues,
  layout: ReferenceLayout,
): Quad[] => {
  const size = cornersMm(layout.widthMm, layout.heightMm);
  const reference = knownContrast();
  const centres = layout.patches.map(({ rectMm: [x, y, w, h] }): Point => [x + w / 2, y + h / 2]);
  // The area's own direction leans with its colours: only which way the long side runs is taken from it.
  const axis = Math.abs(Math.sin(angle)) > Math.SQRT1_2 ? Math.PI / 2 : 0;
  const colours = new Float64Array(72);
  const starts = [0.76, 0.84, 0.92, 1, 1.09, 1.18].map((grow) => {
    const scale = (longPx * block * grow) / layout.widthMm;
    let best: Quad = size;
    let most = -2;
    for (const slant of [-0.24, -0.16, -0.08, 0, 0.08, 0.16, 0.24]) {
      for (const turn of [0, Math.PI]) {
        const c = Math.cos(axis + slant + turn) * scale;
        const s = Math.sin(axis + slant + turn) * scale;
        for (let alongMm = -36; alongMm <= 36; alongMm += 12) {
          for (let downMm = -48; downMm <= 48; downMm += 12) {
            const at = ([x, y]: Point): Point => {
              const u = x - layout.widthMm / 2 + alongMm;
              const v = y - layout.heightMm / 2 + downMm;
              return [middle[0] * block + u * c - v * s, middle[1] * block + u * s + v * c];
            };
            for (let i = 0; i < centres.length; i++) readCodes(pixels, at(centres[i]!), colours, i);
            const likeness = likenessTo(reference, colours);
            if (likeness > most) {
              most = likeness;
              best = [at(size[0]), at(size[1]), at(size[2]), at(size[3])];
            }
          }
        }
      }
    }
    return { quad: best, likeness: most };
  });
  return starts
    .sort((a, b) => b.likeness - a.likeness)
    .slice(0, mostStarts)
    .map(({ quad }) => quad);
};

/** Places inside a patch, in shares of its side from its middle. */
const insidePatch: readonly Point[] = [
  [0, 0],
  [-0.36, -0.36],
  [0.36, -0.36],
  [0.36, 0.36],
  [-0.36, 0.36],
];

/** Moves the corners, one by one in ever smaller steps, to where the patches fit best and are most even. */
const polish = (pixels: Pixels, start: Quad, layout: ReferenceLayout): { corners: Quad; likeness: number } => {
  const reference = knownContrast();
  let corners = start;
  let likeness = likenessOf(pixels, corners, layout, reference);
  const side = Math.hypot(start[1][0] - start[0][0], start[1][1] - start[0][1]);
  for (const step of [0.04, 0.02, 0.01, 0.005].map((share) => share * side)) {
    for (let round = 0; round < 4; round++) {
      const before = likeness;
      for (const moved of moves(step)) {
        const tried = moved(corners);
        const value = likenessOf(pixels, tried, layout, reference);
        if (value > likeness) {
          likeness = value;
          corners = tried;
        }
      }
      if (likeness === before) break;
    }
  }
  return { corners, likeness };
};

/** How the four corners go along in one move, each in the move's direction (1), against it (-1) or not (0). */
const movePatterns: readonly (readonly [number, number, number, number])[] = [
  [1, 1, 1, 1],
  [1, 1, 0, 0],
  [0, 1, 1, 0],
  [0, 0, 1, 1],
  [1, 0, 0, 1],
  [1, 1, -1, -1],
  [1, -1, -1, 1],
  [1, 0, 0, 0],
  [0, 1, 0, 0],
  [0, 0, 1, 0],
  [0, 0, 0, 1],
];

/** Ways to move a quadrilateral by one step: as a whole, by a side, by a corner, sheared, turned. */
const moves = (step: number): ((corners: Quad) => Quad)[] => {
  const straight = movePatterns.flatMap((pattern) =>
    [
      [step, 0],
      [-step, 0],
      [0, step],
      [0, -step],
    ].map(([dx = 0, dy = 0]) => ([a, b, c, d]: Quad): Quad => {
      const move = ([x, y]: Point, share: number): Point => [x + dx * share, y + dy * share];
      return [move(a, pattern[0]), move(b, pattern[1]), move(c, pattern[2]), move(d, pattern[3])];
    }),
  );
  const turns = [step, -step].map((by) => (corners: Quad): Quad => {
    const cx = corners.reduce((sum, [x]) => sum + x, 0) / 4;
    const cy = corners.reduce((sum, [, y]) => sum + y, 0) / 4;
    const angle = by / Math.hypot(corners[0][0] - cx, corners[0][1] - cy);
    const turn = ([x, y]: Point): Point => [x - (y - cy) * angle, y + (x - cx) * angle];
    return [turn(corners[0]), turn(corners[1]), turn(corners[2]), turn(corners[3])];
  });
  return [...turns, ...straight];
};

/** Places between the corners by their shares of width and height: within a chart perspective moves them by less than 1 mm. */
const likenessOf = (pixels: Pixels, [a, b, c, d]: Quad, layout: ReferenceLayout, reference: Float64Array): number => {
  const colours = new Float64Array(72);
  const here = new Float64Array(3);
  let uneven = 0;
  for (const [i, { rectMm }] of layout.patches.entries()) {
    const [x, y, w, h] = rectMm;
    for (const [dx, dy] of insidePatch) {
      const u = (x + w * (0.5 + dx)) / layout.widthMm;
      const v = (y + h * (0.5 + dy)) / layout.heightMm;
      const place: Point = [
        (a[0] * (1 - u) + b[0] * u) * (1 - v) + (d[0] * (1 - u) + c[0] * u) * v,
        (a[1] * (1 - u) + b[1] * u) * (1 - v) + (d[1] * (1 - u) + c[1] * u) * v,
      ];
      readCodes(pixels, place, here, 0);
      for (let k = 0; k < 3; k++) {
        colours[i * 3 + k]! += here[k]! / insidePatch.length;
        uneven += here[k]! ** 2 / insidePatch.length;
      }
    }
    for (let k = 0; k < 3; k++) uneven -= colours[i * 3 + k]! ** 2;
  }
  return likenessTo(reference, colours) - uneven / (72 * usualSpread ** 2);
};

/** Spread of codes over the patches of a chart: unevenness inside a patch is held against it. */
const usualSpread = 60;

/** Codes of the pixel at a place, written as the i-th colour. */
const readCodes = (
  { data, width, height, first, right, down }: Pixels,
  [x, y]: Point,
  out: Float64Array,
  i: number,
): void => {
  const px = Math.min(width - 1, Math.max(0, Math.floor(x)));
  const py = Math.min(height - 1, Math.max(0, Math.floor(y)));
  const at = first + py * down + px * right;
  out[i * 3] = data[at]!;
  out[i * 3 + 1] = data[at + 1]!;
  out[i * 3 + 2] = data[at + 2]!;
};

/** The patches as known, each channel less its mean and scaled to length 1: brightness and gain are left free. */
const knownContrast = (): Float64Array => {
  const out = new Float64Array(72);
  for (let c = 0 as 0 | 1 | 2; c < 3; c++) {
    const mean = patchCodes.reduce((sum, codes) => sum + codes[c], 0) / 24;
    const length = Math.sqrt(patchCodes.reduce((sum, codes) => sum + (codes[c] - mean) ** 2, 0));
    for (const [i, codes] of patchCodes.entries()) out[i * 3 + c] = (codes[c] - mean) / length;
  }
  return out;
};

/** Mean over the channels of the correlation with the known patches, -1 to 1. */
const likenessTo = (known: Float64Array, colours: Float64Array): number => {
  let total = 0;
  for (let c = 0; c < 3; c++) {
    let sum = 0;
    let square = 0;
    let cross = 0;
    for (let i = c; i < 72; i += 3) {
      const value = colours[i]!;
      sum += value;
      square += value * value;
      cross += value * known[i]!;
    }
    total += cross / Math.sqrt(square - (sum * sum) / 24 + 1e-9);
  }
  return total / 3;
};
