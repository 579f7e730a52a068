import type { Pixels, Point } from "../pixels.ts";

/** Stations along one side of an outline at which the edge is looked for. */
const stations = 48;

/** Rows along the side that one station averages, so that grain does not count as an edge. */
const rowsPerStation = 6;

/** Least step of an edge, codes: twice what grain averaged over a whole side leaves. */
const leastStep = 5;

/** A further edge beside the strongest counts from this share of its step on: less is grain. */
const leastShare = 0.12;

/** Most edges that one side is offered. */
const mostOptions = 4;

/** How far beside a step colour is taken, px. */
const besidePx = 8;

/** Share of a step that must still be there further out: less is a joint, a line and no edge. */
const lasting = 0.5;

/** Where no thickness can show, a step further inside must be this share of the strongest to be preferred to it. */
const rivalShare = 0.3;
const leastRival = 10;

/** How far about a rough side to look, photo px. */
export interface SideSearch {
  readonly reachPx: number;
  readonly thicknessPx: number;
  readonly neighbourPx: number;
}

/** One edge that runs along a side: places on it in order, photo px, and the share of stations that saw it. */
export interface SideOption {
  readonly points: readonly Point[];
  readonly seen: number;
}

/**
 * The edges, to a fraction of a pixel, that may be a side of a flat thing, the likeliest first; none when nothing is seen.
 * `from` to `to` is the side as roughly known, walked so that the thing lies on the right hand; the strongest step within
 * `reachPx` to both sides leads. When up to `thicknessPx` of the thing's own thickness may show outside its edge, the
 * innermost lasting step within that distance is likelier; where a neighbour may stand `neighbourPx` off, so is a clear
 * step that far inside: then the strongest was the neighbour's. The other steps follow.
 */
export const sideOptions = (
  pixels: Pixels,
  from: Point,
  to: Point,
  { reachPx, thicknessPx, neighbourPx }: SideSearch,
): SideOption[] => {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const along: Point = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  const outward: Point = [along[1], -along[0]];
  const inset = Math.ceil(thicknessPx);
  const search = Math.max(5, Math.ceil(reachPx));
  const reach = search + Math.max(inset, Math.ceil(neighbourPx)) + besidePx;
  const profiles = Array.from({ length: stations }, (_, k) =>
    profile(pixels, from, along, outward, ((k + 0.5) / stations) * length, length / stations, reach),
  );
  const steps = profiles.map(stepsAcross);
  const main = fitCurve(steps.map((step) => strongestPeak(step, reach - search)));
  if (main === null) return [];
  const offsets = rankedSteps(meanAlong(profiles, main, reach), reach, inset, search);
  return offsets.flatMap((offset): SideOption[] => {
    const curve =
      offset === 0 ? main : fitCurve(steps.map((step, k) => nearestPeak(step, curveAt(main, k) + offset, 3)));
    if (curve === null) return [];
    const points: Point[] = [];
    for (const [k, step] of steps.entries()) {
      const t = nearestPeak(step, curveAt(curve, k), 2);
      if (t === null) continue;
      const d = t - reach;
      const at = ((k + 0.5) / stations) * length;
      points.push([from[0] + along[0] * at + outward[0] * d, from[1] + along[1] * at + outward[1] * d]);
    }
    return [{ points, seen: points.length / stations }];
  });
};

/** The stations' profiles laid over each other so that the curve is at `reach`, averaged. */
const meanAlong = (profiles: readonly Float32Array[], curve: Curve, reach: number): Float32Array => {
  const sums = new Float32Array(profiles[0]?.length ?? 0);
  const samples = sums.length / 3;
  for (const [k, colours] of profiles.entries()) {
    const shift = Math.round(curveAt(curve, k)) - reach;
    for (let t = 0; t < samples; t++) {
      const source = Math.min(samples - 1, Math.max(0, t + shift)) * 3;
      for (let c = 0; c < 3; c++) sums[t * 3 + c]! += colours[source + c]! / profiles.length;
    }
  }
  return sums;
};

/** Offsets from the main edge, which lies at `reach`, of the steps that may be the edge, the likeliest first, px. */
const rankedSteps = (colours: Float32Array, reach: number, inset: number, search: number): number[] => {
  const step = stepsAcross(colours);
  const main = Math.max(step[reach - 1]!, step[reach]!, step[reach + 1]!);
  const others: number[] = [];
  for (let t = 4; t < reach + search; t++) {
    if (Math.abs(t - reach) > 1 && isPeak(step, t) && step[t]! > Math.max(leastStep, main * leastShare)) others.push(t);
  }
  const preferred = others.find((t) => {
    const rival = t < reach - inset;
    return (
      t < reach - 1 &&
      lasts(colours, t, reach, step[t]!) &&
      (!rival || step[t]! > Math.max(leastRival, main * rivalShare))
    );
  });
  const rest = [reach, ...others.sort((a, b) => step[b]! - step[a]!)].filter((t) => t !== preferred);
  return [...(preferred === undefined ? [] : [preferred]), ...rest].slice(0, mostOptions).map((t) => t - reach);
};

/** Whether what lies between this step and the main edge differs in colour from what lies inside: an edge, not a joint. */
const lasts = (colours: Float32Array, t: number, reach: number, step: number): boolean => {
  const inner = meanColour(colours, Math.max(0, t - besidePx), t - 2);
  const outer = meanColour(colours, t + 2, reach - 1);
  return Math.hypot(inner[0] - outer[0], inner[1] - outer[1], inner[2] - outer[2]) > lasting * step;
};

const meanColour = (colours: Float32Array, from: number, to: number): readonly [number, number, number] => {
  const sum: [number, number, number] = [0, 0, 0];
  const n = Math.max(1, to - from);
  for (let t = from; t < from + n; t++) {
    sum[0] += colours[t * 3]! / n;
    sum[1] += colours[t * 3 + 1]! / n;
    sum[2] += colours[t * 3 + 2]! / n;
  }
  return sum;
};

/** Mean colour across the side from `reach` px inside to `reach` px outside, one sample a px, R, G, B in turn. */
const profile = (
  { data, width, height }: Pixels,
  from: Point,
  along: Point,
  outward: Point,
  at: number,
  span: number,
  reach: number,
): Float32Array => {
  const out = new Float32Array((2 * reach + 1) * 3);
  for (let row = 0; row < rowsPerStation; row++) {
    const s = at + ((row + 0.5) / rowsPerStation - 0.5) * span;
    let x = from[0] + along[0] * s - outward[0] * reach - 0.5;
    let y = from[1] + along[1] * s - outward[1] * reach - 0.5;
    for (let t = 0; t < out.length; t += 3, x += outward[0], y += outward[1]) {
      const px = Math.min(width - 2, Math.max(0, Math.floor(x)));
      const py = Math.min(height - 2, Math.max(0, Math.floor(y)));
      const fx = Math.min(1, Math.max(0, x - px));
      const fy = Math.min(1, Math.max(0, y - py));
      const p = (py * width + px) * 3;
      const q = p + width * 3;
      for (let c = 0; c < 3; c++) {
        out[t + c]! +=
          ((data[p + c]! * (1 - fx) + data[p + 3 + c]! * fx) * (1 - fy) +
            (data[q + c]! * (1 - fx) + data[q + 3 + c]! * fx) * fy) /
          rowsPerStation;
      }
    }
  }
  return out;
};

/** Size of the colour step at each sample of a profile: two samples after against two before, codes. */
const stepsAcross = (colours: Float32Array): Float32Array => {
  const n = colours.length / 3;
  const out = new Float32Array(n);
  for (let t = 2; t < n - 2; t++) {
    let sum = 0;
    for (let c = 0; c < 3; c++) {
      const i = t * 3 + c;
      const d = (colours[i + 3]! + colours[i + 6]! - colours[i - 3]! - colours[i - 6]!) / 2;
      sum += d * d;
    }
    out[t] = Math.sqrt(sum);
  }
  return out;
};

/** Place of the strongest step, `margin` samples at both ends left out: they serve as surround. */
const strongestPeak = (step: Float32Array, margin: number): number | null => {
  let best = -1;
  for (let t = margin; t < step.length - margin; t++)
    if (isPeak(step, t) && (best < 0 || step[t]! > step[best]!)) best = t;
  return best < 0 ? null : peakPlace(step, best);
};

/** Place of the peak nearest to `expected`, at most `near` px away. */
const nearestPeak = (step: Float32Array, expected: number, near: number): number | null => {
  let best: number | null = null;
  const last = Math.min(step.length - 3, Math.ceil(expected + near + 1));
  for (let t = Math.max(2, Math.floor(expected - near - 1)); t <= last; t++) {
    if (!isPeak(step, t) || step[t]! < leastStep) continue;
    const place = peakPlace(step, t);
    if (Math.abs(place - expected) < (best === null ? near : Math.abs(best - expected))) best = place;
  }
  return best;
};

const isPeak = (step: Float32Array, t: number): boolean => step[t]! >= step[t - 1]! && step[t]! > step[t + 1]!;

/** Top of the parabola through the peak and its neighbours. */
const peakPlace = (step: Float32Array, t: number): number => {
  const before = step[t - 1]!;
  const after = step[t + 1]!;
  const bend = 2 * step[t]! - before - after;
  return bend > 0 ? t + (after - before) / (2 * bend) : t;
};

/** Place = c0 + c1 u + c2 u2 with u from -1 to 1 along the side. */
type Curve = readonly [number, number, number];

const curveAt = ([c0, c1, c2]: Curve, station: number): number => {
  const u = ((station + 0.5) / stations) * 2 - 1;
  return c0 + c1 * u + c2 * u * u;
};

/** Greatest bow of a side, px, that counts as one: lenses of phones and bowed leaves keep below. */
const mostBowPx = 12;

/** The curve that most places lie on, passing over those that are off: start from the best line through two of them. */
const fitCurve = (places: readonly (number | null)[]): Curve | null => {
  const seen = places.flatMap((place, k) => (place === null ? [] : [{ u: ((k + 0.5) / stations) * 2 - 1, place }]));
  if (seen.length < stations / 4) return null;
  let start: Curve = [0, 0, 0];
  let most = -1;
  for (let i = 0; i < seen.length; i += 2) {
    for (let j = i + 6; j < seen.length; j += 3) {
      const one = seen[i]!;
      const other = seen[j]!;
      const c1 = (other.place - one.place) / (other.u - one.u);
      const c0 = one.place - c1 * one.u;
      let close = 0;
      for (const { u, place } of seen) close += Math.max(0, 1 - Math.abs(place - c0 - c1 * u) / 2);
      if (close > most) {
        most = close;
        start = [c0, c1, 0];
      }
    }
  }
  let curve = start;
  for (const near of [5, 3, 2, 2]) {
    const fitted = weightedParabola(seen, curve, near);
    if (fitted === null) return null;
    curve = fitted;
  }
  return Math.abs(curve[2]) > mostBowPx ? null : curve;
};

/** Least squares parabola through the places within `near` px of the curve, nearer ones counting more. */
const weightedParabola = (
  seen: readonly { u: number; place: number }[],
  [c0, c1, c2]: Curve,
  near: number,
): Curve | null => {
  const m = new Float64Array(5);
  const v = new Float64Array(3);
  for (const { u, place } of seen) {
    const d = (place - c0 - c1 * u - c2 * u * u) / near;
    if (Math.abs(d) >= 1) continue;
    const w = (1 - d * d) ** 2;
    let power = w;
    for (let k = 0; k < 5; k++, power *= u) {
      m[k]! += power;
      if (k < 3) v[k]! += power * place;
    }
  }
  const [m0, m1, m2, m3, m4] = m as unknown as [number, number, number, number, number];
  const [v0, v1, v2] = v as unknown as [number, number, number];
  const det = m0 * (m2 * m4 - m3 * m3) - m1 * (m1 * m4 - m2 * m3) + m2 * (m1 * m3 - m2 * m2);
  if (m0 < 4 || Math.abs(det) < 1e-9) return null;
  return [
    (v0 * (m2 * m4 - m3 * m3) - m1 * (v1 * m4 - v2 * m3) + m2 * (v1 * m3 - v2 * m2)) / det,
    (m0 * (v1 * m4 - v2 * m3) - v0 * (m1 * m4 - m2 * m3) + m2 * (m1 * v2 - m2 * v1)) / det,
    (m0 * (m2 * v2 - m3 * v1) - m1 * (m1 * v2 - m2 * v1) + v0 * (m1 * m3 - m2 * m2)) / det,
  ];
};
