import type { LiftAnswer } from "../../server/contract/questions.ts";
import { figure } from "../words.ts";

type Lift = LiftAnswer["lifts"][number];

const ifWords = ({ by, leaf, opening, space }: Lift, nameOf: (space: string) => string): string => {
  const where = opening ?? (space === null ? "" : nameOf(space));
  switch (by) {
    case "other-leaf":
      return `Another leaf in place of ${leaf}`;
    case "other-existing":
      return `A new leaf in place of ${leaf}, which hangs there now`;
    case "let-go":
      return `${leaf} no longer held in ${where}`;
    case "let-in":
      return `${leaf} let in to ${where} again`;
    case "one-more-like":
      return `One more leaf like ${leaf}`;
  }
};

/** "Another leaf in place of W03: worst 1.9, perhaps down to 1.7." */
export const liftWords = (lift: Lift, nameOf: (space: string) => string): string => {
  const perhaps =
    figure(lift.bound, null) === figure(lift.worst, null) ? "" : `, perhaps down to ${figure(lift.bound, null)}`;
  return `${ifWords(lift, nameOf)}: worst ${figure(lift.worst, null)}${perhaps}.`;
};

/** Which two faces force the worst, and whether anything single lifts it. */
export const forcedWords = ({ worst, pair, lifts }: LiftAnswer, nameOf: (space: string) => string): string => {
  const forced = pair
    ? `The worst, ${figure(worst, null)}, is ${pair.one.leaf} face ${pair.one.face} with ${pair.other.leaf} face ${pair.other.face} in ${nameOf(pair.space)}.`
    : `The worst is ${figure(worst, null)}.`;
  return lifts.length > 0 ? `${forced} Any one of these would lift it:` : `${forced} No single change lifts it.`;
};
