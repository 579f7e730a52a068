import { bandPx, type EdgePoints, edgePoints, firstFrom, type Run } from "./edge-points.ts";
import type { WorkingPicture } from "./working-picture.ts";

/**
 * A straight line of the working picture along which colour changes. Sums from its start, over bands of `bandPx` px:
 * `seen` how much of it is an edge, a band counting up to 1; `before` and `after` the colour (R, G, B in turn, codes)
 * a little to its smaller and to its larger side; `inFrame` the bands whose both sides lie in the picture.
 */
export interface EdgeLine {
  readonly run: Run;
  readonly offset: number;
  readonly slope: number;
  readonly seen: Float32Array;
  readonly before: Float32Array;
  readonly after: Float32Array;
  readonly inFrame: Float32Array;
}

/** What lies along a part of a line: share seen as an edge, and the mean colour on its smaller and its larger side. */
export interface LinePart {
  readonly seen: number;
  readonly before: readonly [number, number, number];
  readonly after: readonly [number, number, number];
}

/** Steepest lean against upright or level: 15 degrees of tilt and as much of converging lines from a near view. */
const usualSteepest = 0.32;

/** Smallest share of the picture's length that a line must be seen along. */
const leastSeen = 0.07;

const mostLines = 100;

/**
 * The straight lines along which one colour gives way to another over at least `leastPx`, strongest first, leaning by at most
 * `steepest` px a px. Lines that
 * grain and joints draw are left out: they have the same wood on both sides.
 */
export const edgeLines = (picture: WorkingPicture, run: Run, leastPx: number, steepest = usualSteepest): EdgeLine[] => {
  const points = edgePoints(picture, run);
  const across = run === "upright" ? picture.width : picture.height;
  const kept: EdgeLine[] = [];
  for (const { offset, slope } of strongestLines(points, across, steepest)) {
    const line = refit(points, picture, run, offset, slope);
    if (divides(line, leastPx) && !kept.some((other) => coincide(other, line, points.length))) kept.push(line);
  }
  return kept;
};

/** Least step of colour between the two sides of a line, codes: grain and joints keep below, beside them is the same wood. */
const leastStep = 8;

/** Whether some stretch of `stretchPx` is seen for the better half and has different colours on its two sides. */
const divides = (line: EdgeLine, stretchPx: number): boolean => {
  const length = (line.seen.length - 1) * bandPx;
  for (let from = 0; from + stretchPx <= length; from += stretchPx / 3) {
    const part = linePart(line, from, from + stretchPx);
    if (part && part.seen > 0.5 && step(part) >= leastStep) return true;
  }
  return false;
};

/** Step of colour across a part of a line, codes. */
export const step = ({ before, after }: LinePart): number =>
  Math.hypot(after[0] - before[0], after[1] - before[1], after[2] - before[2]);

/** Two lines that refitting drew onto the same edge. */
const coincide = (one: EdgeLine, other: EdgeLine, length: number): boolean =>
  Math.abs(one.offset - other.offset) < 1 &&
  Math.abs(one.offset - other.offset + (one.slope - other.slope) * length) < 1;

/** Part of the line from `from` to `to` px along its run that is seen as an edge, 0 to 1. */
export const seenShare = ({ seen }: EdgeLine, from: number, to: number): number => {
  const last = seen.length - 1;
  const a = Math.min(last, Math.max(0, Math.round(from / bandPx)));
  const b = Math.min(last, Math.max(0, Math.round(to / bandPx)));
  return b > a ? (seen[b]! - seen[a]!) / (b - a) : 0;
};

/** What lies along the line from `from` to `to` px along its run; `null` when that is outside the picture. */
export const linePart = (line: EdgeLine, from: number, to: number): LinePart | null => {
  const last = line.seen.length - 1;
  const a = Math.min(last, Math.max(0, Math.round(from / bandPx)));
  const b = Math.min(last, Math.max(0, Math.round(to / bandPx)));
  const n = line.inFrame[b]! - line.inFrame[a]!;
  if (b <= a || n < (b - a) / 2) return null;
  return {
    seen: (line.seen[b]! - line.seen[a]!) / (b - a),
    before: meanColour(line.before, a, b, n),
    after: meanColour(line.after, a, b, n),
  };
};

const meanColour = (sums: Float32Array, a: number, b: number, n: number): [number, number, number] => [
  (sums[b * 3]! - sums[a * 3]!) / n,
  (sums[b * 3 + 1]! - sums[a * 3 + 1]!) / n,
  (sums[b * 3 + 2]! - sums[a * 3 + 2]!) / n,
];

/** Hough vote over offset at mid length and slope; peaks that keep their distance from stronger ones. */
const strongestLines = ({ at, weight, first, bands, length }: EdgePoints, across: number, steepest: number) => {
  const half = length / 2;
  const slopeStep = 1.5 / half;
  const slopes = 2 * Math.ceil(steepest / slopeStep) + 1;
  const margin = Math.ceil(steepest * half);
  const bins = across + 2 * margin;
  const votes = new Float32Array(slopes * bins);
  for (let band = 0; band < bands; band++) {
    const y = (band + 0.5) * bandPx - half;
    for (let i = first[band]!; i < first[band + 1]!; i++) {
      const w = weight[i]!;
      const x = at[i]! + margin + 0.5;
      const lean = slopeStep * y;
      let p = x + lean * ((slopes - 1) / 2);
      for (let row = 0; row < votes.length; row += bins, p -= lean) {
        const bin = p | 0;
        if (bin >= 0 && bin < bins) votes[row + bin]! += w;
      }
    }
  }
  const peaks: { offset: number; slope: number; sum: number }[] = [];
  const least = leastSeen * bands;
  for (let s = 0; s < slopes; s++) {
    for (let p = 1; p < bins - 1; p++) {
      const i = s * bins + p;
      const sum = votes[i - 1]! + votes[i]! + votes[i + 1]!;
      if (sum < least || votes[i]! < votes[i - 1]! || votes[i]! < votes[i + 1]!) continue;
      if (s > 0 && s < slopes - 1 && (votes[i]! < votes[i - bins]! || votes[i]! < votes[i + bins]!)) continue;
      const slope = (s - (slopes - 1) / 2) * slopeStep;
      peaks.push({ offset: p - margin - slope * half, slope, sum });
    }
  }
  peaks.sort((a, b) => b.sum - a.sum);
  const kept: typeof peaks = [];
  for (const peak of peaks) {
    const crowded = kept.some(
      (other) =>
        Math.abs(other.offset + other.slope * half - peak.offset - peak.slope * half) +
          Math.abs(other.slope - peak.slope) * half * 0.5 <
        4,
    );
    if (!crowded) kept.push(peak);
    if (kept.length === mostLines) break;
  }
  return kept;
};

/** Fits the line to the points near it and counts how much of it is seen. */
const refit = (points: EdgePoints, picture: WorkingPicture, run: Run, offset: number, slope: number): EdgeLine => {
  const { at, weight, first, bands } = points;
  let line = { offset, slope };
  for (const near of [3, 2]) {
    let n = 0;
    let sy = 0;
    let sx = 0;
    let syy = 0;
    let sxy = 0;
    for (let band = 0; band < bands; band++) {
      const y = (band + 0.5) * bandPx;
      const x = line.offset + line.slope * y;
      const end = first[band + 1]!;
      for (let i = firstFrom(at, first[band]!, end, x - near); i < end && at[i]! <= x + near; i++) {
        const w = weight[i]!;
        n += w;
        sy += w * y;
        sx += w * at[i]!;
        syy += w * y * y;
        sxy += w * y * at[i]!;
      }
    }
    const spread = n * syy - sy * sy;
    if (n < 3 || spread <= 0) break;
    const fitted = (n * sxy - sy * sx) / spread;
    line = { slope: fitted, offset: (sx - fitted * sy) / n };
  }
  return { run, ...line, ...alongLine(points, picture, run, line) };
};

/** How far off the line an edge point still counts as seen on it, px: bow of the lens and rounding. */
const seenPx = 2.5;

/** How far beside the line colour is taken, px: outside the blur of the edge, inside a stile or a gap. */
const besidePx = 3;

const alongLine = (
  { at, weight, first, bands }: EdgePoints,
  { red, green, blue, width, height }: WorkingPicture,
  run: Run,
  line: { offset: number; slope: number },
): Pick<EdgeLine, "seen" | "before" | "after" | "inFrame"> => {
  const upright = run === "upright";
  const across = upright ? width : height;
  const step = upright ? 1 : width;
  const next = upright ? width : 1;
  const seen = new Float32Array(bands + 1);
  const inFrame = new Float32Array(bands + 1);
  const before = new Float32Array((bands + 1) * 3);
  const after = new Float32Array((bands + 1) * 3);
  for (let band = 0; band < bands; band++) {
    const x = line.offset + line.slope * (band + 0.5) * bandPx;
    let best = 0;
    const end = first[band + 1]!;
    for (let i = firstFrom(at, first[band]!, end, x - seenPx); i < end && at[i]! <= x + seenPx; i++) {
      if (weight[i]! > best) best = weight[i]!;
    }
    seen[band + 1] = seen[band]! + best;
    const low = Math.floor(x - besidePx);
    const high = Math.floor(x + besidePx);
    const whole = low >= 1 && high < across - 1;
    inFrame[band + 1] = inFrame[band]! + (whole ? 1 : 0);
    const row = (band * bandPx + 1) * next;
    const p = row + low * step;
    const q = row + high * step;
    const k = band * 3;
    before[k + 3] = before[k]! + (whole ? (red[p]! + red[p - step]!) / 2 : 0);
    before[k + 4] = before[k + 1]! + (whole ? (green[p]! + green[p - step]!) / 2 : 0);
    before[k + 5] = before[k + 2]! + (whole ? (blue[p]! + blue[p - step]!) / 2 : 0);
    after[k + 3] = after[k]! + (whole ? (red[q]! + red[q + step]!) / 2 : 0);
    after[k + 4] = after[k + 1]! + (whole ? (green[q]! + green[q + step]!) / 2 : 0);
    after[k + 5] = after[k + 2]! + (whole ? (blue[q]! + blue[q + step]!) / 2 : 0);
  }
  return { seen, before, after, inFrame };
};
