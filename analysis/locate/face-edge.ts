import { robustSpread } from "../algebra/robust.ts";
import { bend, type Lens } from "../lens.ts";
import type { Pixels, Point } from "../pixels.ts";
import { profile } from "./side-profile.ts";

/** Stretches of a side, each of which says once where the face ends, and the profiles averaged in each. */
const stretches = 16;
const profilesEach = 3;

/** Px of the face's own colour that are looked at inside the search. */
const ownPx = 8;

/** Least distance in colour from the face, codes, and in spreads of its own grain, to be something else. */
const leastStep = 8;
const leastSpreads = 4;

/** Share of the greatest distance met from which on it is no figure of the wood, however light the wall. */
const clearShare = 0.2;

/** How far something else must go on, px and mm: a joint or a pore is narrower. */
const lastingPx = 3;
const lastingMm = 4;

/** From the onset of a step to its far side, px: the blur of a sharp photo. */
const blurPx = 1.5;

/**
 * Where the face ends along a side known to about `reachMm`, stretch by stretch, photo px: from inside outwards, the first place from which on the
 * colour is no longer the face's own. What is strongest there, the wall behind the leaf's own thickness or the line of
 * the floor below a gap, may lie further out. Where the leaf's thickness shows, much like its face, the first slight step
 * is given as well as the first clear one. `from` and
 * `to` in the straightened picture, the face on the right hand.
 */
export const faceEdge = (
  pixels: Pixels,
  lens: Lens,
  from: Point,
  to: Point,
  pxPerMm: number,
  reachMm: number,
  thicknessShows: boolean,
): Point[][] => {
  const search = Math.ceil(reachMm * pxPerMm + lastingPx);
  const lasting = Math.ceil(Math.max(lastingPx, lastingMm * pxPerMm));
  const reach = search + Math.max(ownPx, lasting);
  return Array.from({ length: stretches }, (_, k) => {
    const start = bend(lens, between(from, to, k / stretches));
    const stop = bend(lens, between(from, to, (k + 1) / stretches));
    const length = Math.hypot(stop[0] - start[0], stop[1] - start[1]);
    const along: Point = [(stop[0] - start[0]) / length, (stop[1] - start[1]) / length];
    const outward: Point = [along[1], -along[0]];
    const mean = new Float32Array((2 * reach + 1) * 3);
    for (let m = 0; m < profilesEach; m++) {
      const at = ((m + 0.5) / profilesEach) * length;
      const one = profile(pixels, start, along, outward, at, length / profilesEach, reach);
      for (let i = 0; i < mean.length; i++) mean[i]! += one[i]! / profilesEach;
    }
    const distance = fromOwn(mean, reach - search);
    const grain = robustSpread(distance.subarray(0, reach - search), 0);
    const most = Math.max(...distance.subarray(reach - search, reach + search));
    const slight = Math.max(leastStep, leastSpreads * grain);
    const clear = Math.max(slight, clearShare * most);
    return (thicknessShows && slight < clear ? [slight, clear] : [clear]).flatMap((least): Point[] => {
      const place = onset(distance, reach - search, reach + search, lasting, least);
      if (place === null) return [];
      const off = place - reach;
      return [[(start[0] + stop[0]) / 2 + outward[0] * off, (start[1] + stop[1]) / 2 + outward[1] * off]];
    });
  });
};

const between = (from: Point, to: Point, share: number): Point => [
  from[0] + (to[0] - from[0]) * share,
  from[1] + (to[1] - from[1]) * share,
];

/** Distance in colour, codes, of every sample of a profile from the mean of those before `first`. */
const fromOwn = (colours: Float32Array, first: number): Float32Array => {
  const own = [0, 1, 2].map((c) => {
    let sum = 0;
    for (let t = 0; t < first; t++) sum += colours[t * 3 + c]! / first;
    return sum;
  });
  return Float32Array.from({ length: colours.length / 3 }, (_, t) =>
    Math.hypot(colours[t * 3]! - own[0]!, colours[t * 3 + 1]! - own[1]!, colours[t * 3 + 2]! - own[2]!),
  );
};

/** Sample, to a fraction, between `first` and `last` from which on the distance lastingly exceeds `least`. */
const onset = (distance: Float32Array, first: number, last: number, lasting: number, least: number): number | null => {
  for (let t = first; t <= last; t++) {
    let end = t;
    while (end < t + lasting && distance[end]! > least) end++;
    if (end < t + lasting) continue;
    const beyond = distance[Math.min(distance.length - 1, t + Math.round(blurPx))]!;
    return crossingOf(distance, t, Math.max(least, beyond / 2));
  }
  return null;
};

/** Where the rising values about `t` reach `level`, between two samples. */
const crossingOf = (values: Float32Array, t: number, level: number): number => {
  let i = t;
  while (i < t + blurPx && values[i]! < level) i++;
  const before = values[i - 1] ?? 0;
  const step = values[i]! - before;
  return step > 0 ? i - 1 + Math.min(1, Math.max(0, (level - before) / step)) : i;
};
