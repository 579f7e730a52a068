import type { PhotoSample } from "../sample/photo-sample.ts";
import { buildEquations } from "./equations.ts";
import type { KnownReferences } from "./known-references.ts";
import { orderUnknowns } from "./order-unknowns.ts";
import { solveChannel } from "./solve-channel.ts";
import type { Tones } from "./tone-estimate.ts";
import type { WoodInPhoto } from "./wood-in-photo.ts";

/** Fewer photos than this cannot show that they share a light. */
const leastPhotos = 4;

/** So many, taken evenly from all, are asked: each adds its few units of evidence to the same side, so that two dozen settle it. */
const mostPhotos = 24;

const evenly = (photos: readonly PhotoSample[], most: number): readonly PhotoSample[] => {
  const step = Math.max(1, photos.length / most);
  return Array.from({ length: Math.min(photos.length, most) }, (_, i) => photos[Math.floor(i * step)]!);
};

/**
 * Which photos were taken at one stand, by their ids: those a person says; of the others that show one face each, all of
 * them or none, whichever makes what was seen the more likely.
 */
export const findStands = (
  photos: readonly PhotoSample[],
  known: KnownReferences,
  tones: Tones,
  asSeen: readonly WoodInPhoto[],
): ReadonlyMap<string, string> => {
  const said = new Map(photos.flatMap(({ photo, setUp }) => (setUp === undefined ? [] : [[photo, setUp] as const])));
  const open = photos.filter(({ setUp, faces }) => setUp === undefined && faces.length === 1);
  if (open.length < leastPhotos) return said;
  const together = new Map(open.map(({ photo }) => [photo, "one stand"] as const));
  const asked = evenly(open, mostPhotos);
  const seen = asked.map((photo) => asSeen[photos.indexOf(photo)]!);
  const likely = (standOf: ReadonlyMap<string, string>) => {
    const equations = buildEquations(asked, known, tones, standOf, seen);
    const order = orderUnknowns(equations);
    return [0, 1, 2].reduce((sum, channel) => sum + solveChannel(equations, order, channel as 0 | 1 | 2).evidence, 0);
  };
  return likely(together) > likely(new Map()) ? new Map([...said, ...together]) : said;
};
