import type { PhotoSample } from "../sample/photo-sample.ts";
import { buildEquations } from "./equations.ts";
import type { KnownReferences } from "./known-references.ts";
import { orderUnknowns } from "./order-unknowns.ts";
import { solveChannel } from "./solve-channel.ts";
import type { Tones } from "./tone-estimate.ts";
import { woodAsSeen } from "./wood-in-photo.ts";

/** Fewer photos than this cannot show that they share a light. */
const leastPhotos = 4;

/**
 * Which photos were taken at one stand, by their ids: those a person says; of the others that show one face each, all of
 * them or none, whichever makes what was seen the more likely.
 */
export const findStands = (
  photos: readonly PhotoSample[],
  known: KnownReferences,
  tones: Tones,
): ReadonlyMap<string, string> => {
  const said = new Map(photos.flatMap(({ photo, setUp }) => (setUp === undefined ? [] : [[photo, setUp] as const])));
  const open = photos.filter(({ setUp, faces }) => setUp === undefined && faces.length === 1);
  if (open.length < leastPhotos) return said;
  const together = new Map(open.map(({ photo }) => [photo, "one stand"] as const));
  const { photos: asSeen } = woodAsSeen(open, known, tones);
  const likely = (standOf: ReadonlyMap<string, string>) => {
    const equations = buildEquations(open, known, tones, standOf, asSeen);
    const order = orderUnknowns(equations);
    return [0, 1, 2].reduce((sum, channel) => sum + solveChannel(equations, order, channel as 0 | 1 | 2).evidence, 0);
  };
  return likely(together) > likely(new Map()) ? new Map([...said, ...together]) : said;
};
