import { type RepeatReading, readRepeats } from "../../analysis/repeat/repeat-readings.ts";
import { gateOf, knownOf } from "./solve-delivery.ts";
import type { SolveRequest } from "./solved.ts";

/** Colours of faces photographed more than once, photo by photo, of the photos that count when a delivery is solved. */
export const readRepeatPhotos = (request: SolveRequest): RepeatReading[] =>
  readRepeats(
    request.samples.filter((sample) => gateOf(sample, request) === null),
    knownOf(request),
  );
