import type { Point, Quad } from "../pixels.ts";
import { type EdgeLine, type LinePart, linePart, seenShare, step as stepAcross } from "./edge-lines.ts";
import { type Frame, shapeOf } from "./rectangle-shape.ts";

/** A quadrilateral that may be a leaf of the asked size, in px of the working picture. */
export interface LeafCandidate {
  readonly corners: Quad;
  readonly score: number;
}

/**
 * Spread of the log ratio of width to height of a leaf rightly outlined: sizes hold to 2 mm, and the focal length that is
 * only guessed moves the ratio by less than half a percent within 15 degrees of tilt; beside it each line is off by some px.
 */
const ratioSpread = 0.006;
const lineSpreadPx = 1.5;

/**
 * Which leaves are looked for: the smallest, share of the picture's height; by how much taller than its width says a leaf may
 * look, seen askance; and how far the guessed focal length may spoil its log ratio of width to height.
 */
export interface LeafSearch {
  readonly leastHeight: number;
  readonly narrowed: number;
  readonly guessSpread: number;
}

export const usualSearch: LeafSearch = { leastHeight: 0.25, narrowed: 0.08, guessSpread: 0 };

/** From this share of the picture's height on, a leaf is as large as people take it; below, a panel is likelier. */
const usualHeight = 0.5;

/** More candidates than a row of five, its panels and its gaps make. */
const mostCandidates = 120;

/** Share of each side that must be seen as an edge. */
const leastSeen = 0.5;

/** Spread of the cosine between the sides of a leaf rightly outlined: the focal length is a guess. */
const skewSpread = 0.01;

/** Step of colour, codes, at which an edge counts half. */
const halfStep = 6;

/** Spread of the colours just inside the four edges, codes, at which a candidate counts half: light slopes keep below. */
const halfSpread = 30;

/**
 * Quadrilaterals whose sides are seen lines and whose shape is that of a leaf: for every pair of upright lines the best
 * top and bottom, best pair first, at most 120.
 */
export const leafCandidates = (
  upright: readonly EdgeLine[],
  level: readonly EdgeLine[],
  frame: Frame,
  size: Size,
  search: LeafSearch = usualSearch,
): LeafCandidate[] => {
  const midY = frame.height / 2;
  const sides = upright
    .map((line) => ({ line, x: line.offset + line.slope * midY, crossings: level.map((other) => cross(line, other)) }))
    .sort((a, b) => a.x - b.x);
  const found: LeafCandidate[] = [];
  for (const [i, left] of sides.entries()) {
    for (let k = i + 1; k < sides.length; k++) {
      const right = sides[k]!;
      const height = ((right.x - left.x) * size.heightMm) / size.widthMm;
      if (height * (1 + search.narrowed) < search.leastHeight * frame.height) continue;
      if (height * (1 - foreshortening) > frame.height) break;
      if (!standTogether(left.line, right.line, height * (1 - foreshortening), frame.height)) continue;
      const best = bestBetween(left, right, level, height, frame, size, search);
      if (best) found.push(best);
    }
  }
  return found.sort((a, b) => b.score - a.score).slice(0, mostCandidates);
};

/** An upright line with the places where each level line crosses it. */
interface Upright {
  readonly line: EdgeLine;
  readonly crossings: readonly Point[];
}

/** How much flatter than its width says a leaf may look, seen from below. */
const foreshortening = 0.08;

interface Size {
  readonly widthMm: number;
  readonly heightMm: number;
}

/** A level line between two upright ones: its ends and how well it serves as the top or as the bottom of a leaf. */
interface End {
  readonly start: Point;
  readonly stop: Point;
  readonly y: number;
  readonly step: number;
  readonly weight: number;
  readonly part: LinePart;
}

const endsBetween = (left: Upright, right: Upright, level: readonly EdgeLine[]): End[] => {
  const ends: End[] = [];
  for (let i = 0; i < level.length; i++) {
    const start = left.crossings[i]!;
    const stop = right.crossings[i]!;
    if (seenShare(level[i]!, start[0], stop[0]) < leastSeen) continue;
    const part = linePart(level[i]!, start[0], stop[0]);
    if (part)
      ends.push({ start, stop, y: (start[1] + stop[1]) / 2, step: stepAcross(part), weight: weightOf(part), part });
  }
  return ends.sort((a, b) => a.y - b.y);
};

/** Whether both upright lines are seen, for the better half, over some one stretch as high as the leaf. */
const standTogether = (left: EdgeLine, right: EdgeLine, height: number, frameHeight: number): boolean => {
  for (let y = 0; y <= frameHeight - height; y += height / 8) {
    if (seenShare(left, y, y + height) > leastSeen && seenShare(right, y, y + height) > leastSeen) return true;
  }
  return false;
};

/** Below a leaf come its packing, its shadow and the edge of the floor, all within this distance, mm. */
const nearMm = 80;

/** Less than 1 when another clear step runs within `near` px above this bottom: then that one is the leaf's. */
const lowest = (ends: readonly End[], bottom: End, near: number): number =>
  ends.some(
    ({ start, stop, y, step }) =>
      y < bottom.y - 3 &&
      y > bottom.y - near &&
      step > bottom.step / 2 &&
      Math.abs(start[1] - bottom.start[1] - stop[1] + bottom.stop[1]) < 6,
  )
    ? 0.85
    : 1;

const bestBetween = (
  left: Upright,
  right: Upright,
  level: readonly EdgeLine[],
  height: number,
  frame: Frame,
  size: Size,
  search: LeafSearch,
): LeafCandidate | null => {
  const ends = endsBetween(left, right, level);
  let best: LeafCandidate | null = null;
  for (let t = 0; t < ends.length; t++) {
    const top = ends[t]!;
    for (let b = t + 1; b < ends.length; b++) {
      const bottom = ends[b]!;
      const tall = bottom.y - top.y;
      if (tall < (1 - foreshortening) * height) continue;
      if (tall > (1 + search.narrowed) * height) break;
      if (tall < search.leastHeight * frame.height) continue;
      const least = best?.score ?? 0;
      if (top.weight * bottom.weight <= least) continue;
      const corners: Quad = [top.start, top.stop, bottom.stop, bottom.start];
      let score = top.weight * bottom.weight * shapeFits(corners, frame, size, search);
      if (score <= least) continue;
      score *= uprightsFit(left.line, right.line, corners, [top.part.after, bottom.part.before]);
      if (score <= least) continue;
      score *= lowest(ends, bottom, (nearMm / size.heightMm) * height);
      score *= Math.sqrt(Math.min(1, tall / (usualHeight * frame.height)));
      if (score > least) best = { corners, score };
    }
  }
  return best;
};

/** 1 when the corners are a rectangle of the asked proportions, falling to 0. */
const shapeFits = (corners: Quad, frame: Frame, { widthMm, heightMm }: Size, { guessSpread }: LeafSearch): number => {
  const { ratio, skew } = shapeOf(corners, frame);
  const [a, b] = corners;
  const line = lineSpreadPx / (b[0] - a[0]);
  const misfit = Math.log((ratio * heightMm) / widthMm) / Math.hypot(ratioSpread, line, guessSpread);
  const slant = skew / Math.hypot(skewSpread, 2 * line, guessSpread / 4);
  return Math.exp(-(misfit * misfit + slant * slant) / 2);
};

/** Both upright sides seen and stepping, all four inner strips of one wood, and neither side going on past a corner. */
const uprightsFit = (left: EdgeLine, right: EdgeLine, [a, b, c, d]: Quad, others: readonly Colour[]): number => {
  const onLeft = linePart(left, a[1], d[1]);
  const onRight = linePart(right, b[1], c[1]);
  if (onLeft === null || onRight === null || onLeft.seen < leastSeen || onRight.seen < leastSeen) return 0;
  const spread = spreadOf([onLeft.after, onRight.before, ...others]) / halfSpread;
  const past = Math.max(overrun(left, onLeft, a[1], d[1]), overrun(right, onRight, b[1], c[1]));
  return (weightOf(onLeft) * weightOf(onRight) * (1 - past / 2)) / (1 + spread * spread);
};

/** Where an upright and a level line cross. */
const cross = (upright: EdgeLine, level: EdgeLine): Point => {
  const x = (upright.offset + upright.slope * level.offset) / (1 - upright.slope * level.slope);
  return [x, level.offset + level.slope * x];
};

type Colour = readonly [number, number, number];

const distance = (one: Colour, other: Colour): number =>
  Math.hypot(one[0] - other[0], one[1] - other[1], one[2] - other[2]);

/** The share of one side in the score: the fourth root, so that four sides make one. */
const weightOf = (part: LinePart): number => {
  const step = stepAcross(part);
  return ((part.seen * step) / (step + halfStep)) ** 0.25;
};

/** Greatest distance of a strip from the mean of all, codes. */
const spreadOf = (strips: readonly Colour[]): number => {
  const meanOf = (c: 0 | 1 | 2): number => strips.reduce((sum, strip) => sum + strip[c], 0) / strips.length;
  const mean: Colour = [meanOf(0), meanOf(1), meanOf(2)];
  return Math.max(...strips.map((strip) => distance(strip, mean)));
};

/** How much an upright side goes on beyond its corners, 0 not at all, 1 as strong as between them. */
const overrun = (line: EdgeLine, part: LinePart, from: number, to: number): number => {
  const reach = 0.06 * (to - from);
  const own: Colour = [part.after[0] - part.before[0], part.after[1] - part.before[1], part.after[2] - part.before[2]];
  const square = own[0] * own[0] + own[1] * own[1] + own[2] * own[2];
  const alike = (beyond: LinePart | null): number => {
    if (beyond === null) return 0;
    const along =
      own[0] * (beyond.after[0] - beyond.before[0]) +
      own[1] * (beyond.after[1] - beyond.before[1]) +
      own[2] * (beyond.after[2] - beyond.before[2]);
    return Math.min(1, Math.max(0, along / (square + 1e-6)));
  };
  return Math.max(alike(linePart(line, from - reach, from - 3)), alike(linePart(line, to + 3, to + reach)));
};
