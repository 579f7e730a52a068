import type { Point, Quad } from "../pixels.ts";
import { type EdgeLine, type LinePart, linePart } from "./edge-lines.ts";

/** A quadrilateral that may be a leaf of the asked size, in px of the working picture. */
export interface LeafCandidate {
  readonly corners: Quad;
  readonly score: number;
}

/**
 * Focal length over the picture's longest side that phones' main cameras have: 24 to 28 mm on 36 x 24 mm give 0.69 to
 * 0.81 on a 4:3 picture. Common practice, no source.
 */
const focalShare = 0.75;

/**
 * Spread of the log ratio of width to height of a leaf rightly outlined: sizes hold to 2 mm, and the focal length that is
 * only guessed moves the ratio by less than half a percent within 15 degrees of tilt; beside it each line is off by some px.
 */
const ratioSpread = 0.006;
const lineSpreadPx = 1.5;

/** Smallest leaf looked for, share of the picture's height. */
const leastHeight = 0.25;

/** Share of each side that must be seen as an edge. */
const leastSeen = 0.5;

/** Cosine between the sides from which on no rectangle is believed: the focal length is a guess. */
const mostSkew = 0.15;

/** Step of colour, codes, at which an edge counts half. */
const halfStep = 6;

/** Spread of the colours just inside the four edges, codes, at which a candidate counts half: light slopes keep below. */
const halfSpread = 30;

/**
 * Quadrilaterals whose sides are seen lines and whose shape is that of a leaf: for every pair of upright lines the best
 * top and bottom, best pair first, at most `most`.
 */
export const leafCandidates = (
  upright: readonly EdgeLine[],
  level: readonly EdgeLine[],
  frame: Frame,
  size: Size,
  most = 120,
): LeafCandidate[] => {
  const midY = frame.height / 2;
  const sides = [...upright].sort((a, b) => a.offset + a.slope * midY - b.offset - b.slope * midY);
  const found: LeafCandidate[] = [];
  for (const [i, left] of sides.entries()) {
    for (const right of sides.slice(i + 1)) {
      const height = ((right.offset - left.offset + (right.slope - left.slope) * midY) * size.heightMm) / size.widthMm;
      if (height < leastHeight * frame.height) continue;
      if (height * (1 - foreshortening) > frame.height) break;
      const best = bestBetween(left, right, level, height, frame, size);
      if (best) found.push(best);
    }
  }
  return found.sort((a, b) => b.score - a.score).slice(0, most);
};

/** How much taller or flatter than its width says a leaf may look, seen askance. */
const foreshortening = 0.15;

interface Frame {
  readonly width: number;
  readonly height: number;
}

interface Size {
  readonly widthMm: number;
  readonly heightMm: number;
}

/** A level line between two upright ones: its ends and how well it serves as the top or as the bottom of a leaf. */
interface End {
  readonly start: Point;
  readonly stop: Point;
  readonly step: number;
  readonly side: Side;
}

/** Below a leaf come its packing, its shadow and the edge of the floor, all within this distance, mm. */
const nearMm = 80;

/** Less than 1 when another clear step runs within `near` px of this end on its inner side: then that one is the leaf's. */
const outermost = (ends: readonly End[], { start, stop, step }: End, near: number): number => {
  for (const other of ends) {
    const away = (other.start[1] + other.stop[1] - start[1] - stop[1]) / 2;
    const tilt = Math.abs(other.start[1] - start[1] - other.stop[1] + stop[1]);
    if (away < -3 && away > near && tilt < 6 && other.step > step / 2) return 0.85;
  }
  return 1;
};

const bestBetween = (
  left: EdgeLine,
  right: EdgeLine,
  level: readonly EdgeLine[],
  height: number,
  frame: Frame,
  size: Size,
): LeafCandidate | null => {
  const tops: End[] = [];
  const bottoms: End[] = [];
  for (const line of level) {
    const start = cross(left, line);
    const stop = cross(right, line);
    const part = linePart(line, start[0], stop[0]);
    if (part === null || part.seen < leastSeen) continue;
    const step = distance(part.before, part.after);
    tops.push({ start, stop, step, side: sideOf(part, "after") });
    bottoms.push({ start, stop, step, side: sideOf(part, "before") });
  }
  const near = (nearMm / size.heightMm) * height;
  let best: LeafCandidate | null = null;
  for (const top of tops) {
    for (const bottom of bottoms) {
      const tall = (bottom.start[1] + bottom.stop[1] - top.start[1] - top.stop[1]) / 2;
      if (Math.abs(tall - height) > foreshortening * height) continue;
      const corners: Quad = [top.start, top.stop, bottom.stop, bottom.start];
      const atMost =
        top.side.weight * bottom.side.weight * shapeFits(corners, frame, size) * outermost(bottoms, bottom, -near);
      if (atMost <= (best?.score ?? 0)) continue;
      const score = atMost * uprightsFit(left, right, corners, [top.side.inner, bottom.side.inner]);
      if (score > (best?.score ?? 0)) best = { corners, score };
    }
  }
  return best;
};

/** 1 when the corners are a rectangle of the asked proportions, falling to 0. */
const shapeFits = (corners: Quad, frame: Frame, { widthMm, heightMm }: Size): number => {
  const { ratio, skew } = shapeOf(corners, frame);
  const [a, b] = corners;
  const spread = Math.hypot(ratioSpread, lineSpreadPx / (b[0] - a[0]));
  const misfit = Math.log((ratio * heightMm) / widthMm) / spread;
  return Math.abs(skew) > mostSkew ? 0 : Math.exp((-misfit * misfit) / 2);
};

/** Both upright sides seen and stepping, all four inner strips of one wood, and neither side going on past a corner. */
const uprightsFit = (left: EdgeLine, right: EdgeLine, [a, b, c, d]: Quad, others: readonly Colour[]): number => {
  const onLeft = linePart(left, a[1], d[1]);
  const onRight = linePart(right, b[1], c[1]);
  if (onLeft === null || onRight === null || onLeft.seen < leastSeen || onRight.seen < leastSeen) return 0;
  const leftSide = sideOf(onLeft, "after");
  const rightSide = sideOf(onRight, "before");
  const spread = spreadOf([leftSide.inner, rightSide.inner, ...others]) / halfSpread;
  const past = Math.max(overrun(left, onLeft, a[1], d[1]), overrun(right, onRight, b[1], c[1]));
  return (leftSide.weight * rightSide.weight * (1 - past / 2)) / (1 + spread * spread);
};

/** Where an upright and a level line cross. */
const cross = (upright: EdgeLine, level: EdgeLine): Point => {
  const x = (upright.offset + upright.slope * level.offset) / (1 - upright.slope * level.slope);
  return [x, level.offset + level.slope * x];
};

type Colour = readonly [number, number, number];

const distance = (one: Colour, other: Colour): number =>
  Math.hypot(one[0] - other[0], one[1] - other[1], one[2] - other[2]);

interface Side {
  readonly inner: Colour;
  readonly weight: number;
}

/** One side: the colour just inside, and its share in the score: the fourth root, so that four sides make one. */
const sideOf = (part: LinePart, innerSide: "before" | "after"): Side => {
  const step = distance(part.before, part.after);
  return { inner: part[innerSide], weight: ((part.seen * step) / (step + halfStep)) ** 0.25 };
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

/**
 * Width over height of the flat rectangle that is seen as `corners`, and the cosine of the angle between its sides
 * (0 for a rectangle), for a camera whose axis meets the middle of the frame.
 * Source: columns of the homography from the unit square, seen through the inverse of the camera matrix (textbook geometry).
 */
export const shapeOf = ([a, b, c, d]: Quad, frame: Frame): { ratio: number; skew: number } => {
  const f = focalShare * Math.max(frame.width, frame.height);
  const cx = frame.width / 2;
  const cy = frame.height / 2;
  const sx = a[0] - b[0] + c[0] - d[0];
  const sy = a[1] - b[1] + c[1] - d[1];
  const dx1 = b[0] - c[0];
  const dx2 = d[0] - c[0];
  const dy1 = b[1] - c[1];
  const dy2 = d[1] - c[1];
  const den = dx1 * dy2 - dx2 * dy1;
  const g = (sx * dy2 - dx2 * sy) / den;
  const h = (dx1 * sy - sx * dy1) / den;
  const u = [(b[0] - a[0] + g * (b[0] - cx)) / f, (b[1] - a[1] + g * (b[1] - cy)) / f, g] as const;
  const v = [(d[0] - a[0] + h * (d[0] - cx)) / f, (d[1] - a[1] + h * (d[1] - cy)) / f, h] as const;
  const lengthU = Math.hypot(u[0], u[1], u[2]);
  const lengthV = Math.hypot(v[0], v[1], v[2]);
  return { ratio: lengthU / lengthV, skew: (u[0] * v[0] + u[1] * v[1] + u[2] * v[2]) / (lengthU * lengthV) };
};
