import { type RepeatReading, readRepeats } from "../../analysis/repeat/repeat-readings.ts";
import { gateJudge, knownOf } from "./solve-delivery.ts";
import type { SolveRequest } from "./solved.ts";

/** Colours of faces photographed more than once, photo by photo, of the photos that count when a delivery is solved. */
export const readRepeatPhotos = (request: SolveRequest): RepeatReading[] => {
  const gateOf = gateJudge(request);
  return readRepeats(
    request.samples.filter((sample) => gateOf(sample) === null),
    knownOf(request),
  );
};
