import { type Lens, straighten } from "../lens.ts";
import type { Point } from "../pixels.ts";

/** A straight line: a place on it and its direction, of length 1. */
export interface Line {
  readonly at: Point;
  readonly along: Point;
}

/** Spread of k1 over phones, r in half diagonals: cameras straighten their pictures to about this. Common practice, no source. */
const priorK1 = 0.02;

/** Spread of an edge point about its edge, px, where the points say less. */
const leastScatterPx = 0.3;

/**
 * The lens for which edges known to be straight come out straightest: linear in k1 (straightened = p + k1 r2 (p - centre)),
 * each edge keeping its own line, with a prior of k1 about 0 so that few short edges near the middle say nothing.
 */
export const lensFromEdges = (edges: readonly (readonly Point[])[], plain: Lens): Lens => {
  let cross = 0;
  let square = 0;
  let residual = 0;
  let freedom = 0;
  for (const points of edges) {
    if (points.length < 8) continue;
    const { offset, bow } = acrossEdge(points, plain);
    const y = withoutLine(offset, points.length);
    const z = withoutLine(bow, points.length);
    for (let i = 0; i < y.length; i++) {
      cross -= y[i]! * z[i]!;
      square += z[i]! * z[i]!;
      residual += y[i]! * y[i]!;
    }
    freedom += points.length - 2;
  }
  if (freedom < 1 || square === 0) return plain;
  const rough = cross / square;
  const variance = Math.max(leastScatterPx ** 2, (residual - rough * rough * square) / freedom);
  return { ...plain, k1: cross / (square + variance / priorK1 ** 2) };
};

/** The straight line, in the straightened picture, nearest to points of one edge: a place on it and its direction. */
export const straightLine = (points: readonly Point[], lens: Lens): Line => {
  const straight = points.map((p) => straighten(lens, p));
  let kept = straight;
  let line = principalLine(kept);
  for (const near of [3, 1.5]) {
    kept = straight.filter((p) => Math.abs(offLine(line, p)) < near);
    if (kept.length < 4) break;
    line = principalLine(kept);
  }
  return line;
};

/** Where two lines cross. */
export const crossing = (one: Line, other: Line): Point => {
  const dx = other.at[0] - one.at[0];
  const dy = other.at[1] - one.at[1];
  const t =
    (dx * other.along[1] - dy * other.along[0]) / (one.along[0] * other.along[1] - one.along[1] * other.along[0]);
  return [one.at[0] + t * one.along[0], one.at[1] + t * one.along[1]];
};

const offLine = ({ at, along }: Line, [x, y]: Point): number => (x - at[0]) * along[1] - (y - at[1]) * along[0];

/** Least squares line through points, distances taken square to it: their centre and the line's direction. */
export const principalLine = (points: readonly Point[]): Line => {
  const n = points.length;
  const cx = points.reduce((sum, [x]) => sum + x, 0) / n;
  const cy = points.reduce((sum, [, y]) => sum + y, 0) / n;
  let xx = 0;
  let xy = 0;
  let yy = 0;
  for (const [x, y] of points) {
    xx += (x - cx) * (x - cx);
    xy += (x - cx) * (y - cy);
    yy += (y - cy) * (y - cy);
  }
  const angle = 0.5 * Math.atan2(2 * xy, xx - yy);
  return { at: [cx, cy], along: [Math.cos(angle), Math.sin(angle)] };
};

/** Offset of each point from its edge's line, and how k1 = 1 would move it, both across the line, px. */
const acrossEdge = (points: readonly Point[], { centre, unitPx }: Lens) => {
  const line = principalLine(points);
  const offset = points.map((p) => offLine(line, p));
  const bow = points.map(([x, y]) => {
    const dx = x - centre[0];
    const dy = y - centre[1];
    const r2 = (dx * dx + dy * dy) / (unitPx * unitPx);
    return r2 * (dx * line.along[1] - dy * line.along[0]);
  });
  return { offset, bow };
};

/** What is left of a series, evenly spaced, after its best straight line is taken away. */
const withoutLine = (values: readonly number[], n: number): number[] => {
  const middle = (n - 1) / 2;
  const mean = values.reduce((sum, v) => sum + v, 0) / n;
  const slope = values.reduce((sum, v, i) => sum + v * (i - middle), 0) / ((n * (n * n - 1)) / 12);
  return values.map((v, i) => v - mean - slope * (i - middle));
};
