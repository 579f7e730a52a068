import { limitBetween, verdictWithinRepeats } from "../../analysis/repeat/reliable-difference.ts";
import type { RepeatReading } from "../../analysis/repeat/repeat-readings.ts";
import { type Repeatability, repeatabilityOf } from "../../analysis/repeat/repeatability.ts";
import type { FaceDifference } from "../contract/views.ts";
import type { FaceRef } from "../site.ts";

/** A photo in which a face was measured, by which camera, and whether a card, chart or grey card is in it. */
interface Showing {
  readonly photo: string;
  readonly camera: string;
  readonly referenced: boolean;
}

const advice = "Photos of one face differ by as much here: photograph the two once more, side by side.";

const behind = (photos: readonly Showing[]) => {
  const referenced = photos.filter((one) => one.referenced);
  return {
    photos: new Set(photos.map(({ photo }) => photo)),
    cameras: new Set(referenced.map(({ camera }) => camera)),
    referenced: referenced.length,
  };
};

/**
 * Holds differences to what the delivery's repeat photos show, so that a screen, a record and a plan are all told the
 * same. `showing` names the photos of a face. A difference that repeats tell nothing of stays as it was.
 */
export const holdDifferences = (
  repeats: readonly RepeatReading[],
  toleranceDE00: number,
  showing: (face: FaceRef) => readonly Showing[],
): ((difference: FaceDifference) => FaceDifference) => {
  let worked: Repeatability | undefined;
  /** Worked out when a difference is first asked for: most screens ask for none. */
  const repeatability = () => {
    worked ??= repeatabilityOf(repeats);
    return worked;
  };
  const known = new Map<string, ReturnType<typeof behind>>();
  const photosOf = (face: FaceRef) => {
    const name = `${face.leaf}/${face.face}`;
    const there = known.get(name);
    if (there) return there;
    const found = behind(showing(face));
    known.set(name, found);
    return found;
  };
  const limitOf = ({ a, b }: FaceDifference): number | null => {
    const [one, other] = [photosOf(a), photosOf(b)];
    const together = [...one.photos].filter((photo) => other.photos.has(photo)).length;
    const otherCamera = ![...one.cameras].some((camera) => other.cameras.has(camera));
    return limitBetween(repeatability(), { one: one.referenced, other: other.referenced, together, otherCamera });
  };
  return (difference) => {
    if (repeats.length === 0 || difference.deltaE === null) return difference;
    const limit = limitOf(difference);
    if (limit === null || difference.deltaE >= limit) return difference;
    const verdict = verdictWithinRepeats(difference.verdict, limit, toleranceDE00);
    return { ...difference, verdict, ...(verdict !== difference.verdict && { advice }), withinRepeats: true };
  };
};
