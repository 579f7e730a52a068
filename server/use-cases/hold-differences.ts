import { limitBetween, verdictWithinRepeats } from "../../analysis/repeat/reliable-difference.ts";
import type { RepeatReading } from "../../analysis/repeat/repeat-readings.ts";
import { repeatabilityOf } from "../../analysis/repeat/repeatability.ts";
import type { FaceDifference } from "../contract/views.ts";
import type { FaceRef } from "../site.ts";

/** A photo in which a face was measured, and whether a card, chart or grey card is in it. */
interface Showing {
  readonly photo: string;
  readonly referenced: boolean;
}

const advice = "Photos of one face differ by as much here: photograph the two once more, side by side.";

/**
 * Holds differences to what the delivery's repeat photos show, so that a screen, a record and a plan are all told the
 * same. `showing` names the photos of a face. A difference that repeats tell nothing of stays as it was.
 */
export const holdDifferences = (
  repeats: readonly RepeatReading[],
  toleranceDE00: number,
  showing: (face: FaceRef) => readonly Showing[],
): ((difference: FaceDifference) => FaceDifference) => {
  const repeatability = repeatabilityOf(repeats);
  const known = new Map<string, { readonly photos: ReadonlySet<string>; readonly referenced: number }>();
  const photosOf = (face: FaceRef) => {
    const name = `${face.leaf}/${face.face}`;
    const there = known.get(name);
    if (there) return there;
    const all = showing(face);
    const found = {
      photos: new Set(all.map(({ photo }) => photo)),
      referenced: all.filter(({ referenced }) => referenced).length,
    };
    known.set(name, found);
    return found;
  };
  const limitOf = ({ a, b }: FaceDifference): number | null => {
    const [one, other] = [photosOf(a), photosOf(b)];
    const together = [...one.photos].filter((photo) => other.photos.has(photo)).length;
    return limitBetween(repeatability, { one: one.referenced, other: other.referenced, together });
  };
  return (difference) => {
    if (repeats.length === 0 || difference.deltaE === null) return difference;
    const limit = limitOf(difference);
    if (limit === null || difference.deltaE >= limit) return difference;
    const verdict = verdictWithinRepeats(difference.verdict, limit, toleranceDE00);
    return { ...difference, verdict, ...(verdict !== difference.verdict && { advice }), withinRepeats: true };
  };
};
