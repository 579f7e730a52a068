import { addTo, factorEnvelope, makeEnvelope, solveFactored } from "../algebra/envelope-cholesky.ts";
import { median } from "../algebra/robust.ts";
import { bend, type Lens, plainLens, straighten } from "../lens.ts";
import type { Point, Quad } from "../pixels.ts";
import { type Frame, focalShare } from "./rectangle-shape.ts";
import { cameraSpread, cameraUnknowns, cornersInRow, free, leafSpread, leafUnknowns, type Size } from "./row-pose.ts";

/** One leaf of a row: its size, its outline as roughly known, and the places seen along its top, right, bottom and left, photo px. */
export interface SeenLeaf extends Size {
  readonly corners: Quad;
  readonly sides: readonly (readonly Point[])[];
}

/** A leaf where it stands: corners in photo px, and how hard it was to bring into the row, in squared spreads; up to about 6 is chance. */
export interface FittedLeaf {
  readonly corners: Quad;
  readonly strain: number;
}

/** Places along one side share their error (grain, a shadow): all of them say as much as this many would alone. */
const independentPlaces = 2;

/** Spread of a place seen along the top about the true edge, px: from below and with light from above it shows neither thickness nor shadow. */
const topSpreadPx = 0.2;

/** Spread of a place seen inside any other side, px; nothing but grain lies there. */
const insideSpreadPx = 0.6;

/** How far off its side a place counts a quarter, px, round by round. */
const nearPx = [8, 4, 3, 2, 2];

/** Rounds that fit the rough corners only, to have a start, and the spread of those, px. */
const roughRounds = 5;
const roughSpreadPx = 5;

const own = leafUnknowns;
const shared = cameraUnknowns;

/**
 * Fits one camera, one lens and all leaves of a row at once to the places seen along their sides (Gauss-Newton with the
 * priors of row-pose.ts, weights renewed each round), so that every side tells of the others. What lies outside a side
 * may pass for it, what lies inside cannot: a side is drawn to the innermost of its places, `outsideMm` being the spread of
 * those outside it.
 */
export const fitRow = (
  leaves: readonly SeenLeaf[],
  frame: Frame,
  start: Lens,
  outsideMm: number,
): { readonly leaves: readonly FittedLeaf[]; readonly lens: Lens } => {
  const x = startOf(leaves, frame, start);
  const rough = leaves.map((leaf) => ({
    ...leaf,
    sides: leaf.corners.map((corner, k) => [corner, leaf.corners[((k + 1) % 4) as 0]]),
  }));
  for (let round = 0; round < roughRounds; round++) improve(x, rough, frame, everyPlace);
  for (const near of nearPx) improve(x, leaves, frame, nearPlaces(near, outsideMm));
  const camera = x.subarray(leaves.length * own);
  const lens = lensOf(camera, frame);
  const fitted = leaves.map((leaf, i): FittedLeaf => {
    const unknowns = x.subarray(i * own, (i + 1) * own);
    const straight = cornersInRow(camera, unknowns, leaf, frame);
    const [a, b, c, d] = straight;
    return {
      corners: [bend(lens, a), bend(lens, b), bend(lens, c), bend(lens, d)],
      strain: strainOf(unknowns),
    };
  });
  return { leaves: fitted, lens };
};

const lensOf = (camera: Float64Array, { width, height }: Frame): Lens => ({
  ...plainLens(width, height),
  k1: camera[1]!,
});

/** The sides of the i-th leaf as the camera's lens straightens them, kept until its bow is another. */
const straightener = (leaves: readonly SeenLeaf[], frame: Frame) => {
  const kept = leaves.map(() => ({ k1: Number.NaN, sides: [] as Point[][] }));
  return (camera: Float64Array, i: number): Point[][] => {
    const k1 = camera[1]!;
    if (kept[i]!.k1 !== k1) kept[i] = { k1, sides: straightSides(leaves[i]!.sides, lensOf(camera, frame)) };
    return kept[i]!.sides;
  };
};

const straightSides = (sides: SeenLeaf["sides"], lens: Lens): Point[][] =>
  sides.map((side) => side.map((place) => straighten(lens, place)));

const scaleOf = ({ corners: [a, , , d], heightMm }: SeenLeaf): number =>
  Math.hypot(d[0] - a[0], d[1] - a[1]) / heightMm;

/** How far each straightened place lies outside its side, px. */
const offSides = (corners: Quad, sides: SeenLeaf["sides"]): Float64Array => {
  const out = new Float64Array(sides.reduce((sum, side) => sum + side.length, 0));
  let i = 0;
  for (const [k, side] of sides.entries()) {
    const from = corners[k as 0];
    const to = corners[((k + 1) % 4) as 0];
    const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
    const [ux, uy] = [(to[1] - from[1]) / length, -(to[0] - from[0]) / length];
    for (const [x, y] of side) out[i++] = (x - from[0]) * ux + (y - from[1]) * uy;
  }
  return out;
};

/** What a place `off` px outside its side costs, and the weight it gets in the next step. */
type Loss = (off: number, side: number, places: number, pxPerMm: number) => { cost: number; weight: number };

const everyPlace: Loss = (off) => ({ cost: (off / roughSpreadPx) ** 2, weight: 1 / roughSpreadPx ** 2 });

/** A place costs no more than one `near` px off does twice, however far it lies (Geman and McClure's loss, form from memory). */
const nearPlaces =
  (near: number, outsideMm: number): Loss =>
  (off, side, places, pxPerMm) => {
    const beside = off > 0 && side !== 0 ? outsideMm * pxPerMm : 0;
    const spread = side === 0 ? topSpreadPx : Math.hypot(insideSpreadPx, beside);
    const full = Math.min(1, independentPlaces / places) / spread ** 2;
    const reach = near + beside;
    const kept = 1 / (1 + (off / reach) ** 2);
    return { cost: full * off * off * kept, weight: full * kept * kept };
  };

const smallStep = 1e-6;

/** Keeps what nothing tells of where it is. */
const damping = 0.01;

/** One step of Gauss and Newton in place, shortened until it lowers the cost. */
const improve = (x: Float64Array, leaves: readonly SeenLeaf[], frame: Frame, loss: Loss): void => {
  const size = x.length;
  const camera = x.subarray(leaves.length * own);
  const first = Int32Array.from({ length: size }, (_, i) => (i < leaves.length * own ? i - (i % own) : 0));
  const normal = makeEnvelope(first);
  const right = new Float64Array(size);
  const straight = straightener(leaves, frame);
  const offOf = (i: number): Float64Array =>
    offSides(cornersInRow(camera, x.subarray(i * own, (i + 1) * own), leaves[i]!, frame), straight(camera, i));
  const losses = (i: number, off: Float64Array) => {
    const pxPerMm = scaleOf(leaves[i]!);
    let p = 0;
    return leaves[i]!.sides.flatMap((side, k) => side.map(() => loss(off[p++]!, k, side.length, pxPerMm)));
  };
  const costNow = (): number => {
    let sum = 0;
    for (let i = 0; i < size; i++) sum += x[i]! * x[i]! * priorOf(i, size);
    for (let i = 0; i < leaves.length; i++) for (const { cost } of losses(i, offOf(i))) sum += cost;
    return sum;
  };
  for (let i = 0; i < leaves.length; i++) {
    const off = offOf(i);
    const weights = Float64Array.from(losses(i, off), ({ weight }) => weight);
    const columns = Array.from({ length: own + shared }, (_, k) => (k < own ? i * own + k : size - shared - own + k));
    const slopes = columns.map((column) => {
      const kept = x[column]!;
      x[column] = kept + smallStep;
      const moved = offOf(i);
      x[column] = kept;
      return moved.map((r, q) => (r - off[q]!) / smallStep);
    });
    for (const [a, column] of columns.entries()) {
      for (let b = 0; b <= a; b++) addTo(normal, column, columns[b]!, weightedDot(slopes[a]!, slopes[b]!, weights));
      right[column]! -= weightedDot(slopes[a]!, off, weights);
    }
  }
  for (let i = 0; i < size; i++) {
    addTo(normal, i, i, priorOf(i, size) + damping);
    right[i]! -= x[i]! * priorOf(i, size);
  }
  const factored = factorEnvelope(normal);
  if (factored.kind !== "factored") return;
  const step = solveFactored(factored.factor, right);
  const before = costNow();
  const from = x.slice();
  for (let share = 1; share > shortestStep; share /= 2) {
    for (let i = 0; i < size; i++) x[i] = from[i]! + share * step[i]!;
    if (costNow() <= before) return;
  }
  x.set(from);
};

const shortestStep = 0.05;

/** One over the squared spread of an unknown, 0 for a free one. */
const priorOf = (i: number, size: number): number => {
  const spread = i < size - shared ? leafSpread[i % own]! : cameraSpread[i - size + shared]!;
  return spread === free ? 0 : 1 / spread ** 2;
};

const weightedDot = (one: Float64Array, other: Float64Array, weights: Float64Array): number => {
  let sum = 0;
  for (let i = 0; i < one.length; i++) sum += weights[i]! * one[i]! * other[i]!;
  return sum;
};

/** How far a leaf had to be turned, moved or resized against the others of its row, in squared spreads. */
const strainOf = (unknowns: Float64Array): number =>
  unknowns.reduce((sum, value, k) => sum + (leafSpread[k] === free ? 0 : (value / leafSpread[k]!) ** 2), 0);

/** A start for the first rounds: the wall square to the camera but for its roll, each leaf by its middle. */
const startOf = (leaves: readonly SeenLeaf[], frame: Frame, { k1 }: Lens): Float64Array => {
  const x = new Float64Array(leaves.length * own + shared);
  const f = focalShare * Math.max(frame.width, frame.height);
  const rolls: number[] = [];
  const distances: number[] = [];
  for (const [i, { corners, widthMm, heightMm }] of leaves.entries()) {
    const [a, b, c, d] = corners;
    x[i * own] = ((a[0] + b[0] + c[0] + d[0]) / 4 - frame.width / 2) / f;
    x[i * own + 1] = ((a[1] + b[1] + c[1] + d[1]) / 4 - frame.height / 2) / f;
    rolls.push(Math.atan2(b[1] + c[1] - a[1] - d[1], b[0] + c[0] - a[0] - d[0]));
    const area = Math.abs((c[0] - a[0]) * (d[1] - b[1]) - (c[1] - a[1]) * (d[0] - b[0])) / 2;
    distances.push(Math.log(f * Math.sqrt((widthMm * heightMm) / area)));
  }
  x.set([0, k1, 0, 0, median(rolls), median(distances)], leaves.length * own);
  return x;
};
