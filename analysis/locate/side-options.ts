import type { Pixels, Point } from "../pixels.ts";
import { type Curve, curveAt, fitCurve, stations } from "./side-curve.ts";
import { profile, stepsAcross } from "./side-profile.ts";

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
