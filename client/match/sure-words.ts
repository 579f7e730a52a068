import type { SurenessAnswer } from "../../server/contract/questions.ts";
import { figure } from "../words.ts";
import { atWords } from "./question-words.ts";

type SpaceSure = SurenessAnswer["spaces"][number];

const sureWords: Readonly<Record<SpaceSure["sure"], string>> = {
  inside: "surely within",
  over: "surely over",
  open: "cannot be told to be within",
};

/** The spaces in which two faces are seen together: in the others there is nothing to be sure of. */
export const comparedSpaces = ({ spaces }: SurenessAnswer): SpaceSure[] => spaces.filter(({ high }) => high > 0);

/** "Corridor: worst 1.7, between 1.2 and 2.4: cannot be told to be within 2.0". */
export const spaceSureWords = ({ worst, low, high, sure }: SpaceSure, name: string, tolerance: number): string =>
  `${name}: worst ${figure(worst, null)}, between ${figure(low, null)} and ${figure(high, null)}: ${sureWords[sure]} ${figure(tolerance, null)}.`;

const sayWords = [
  ["return", "Send back"],
  ["measure-again", "Measure again before deciding"],
  ["keep", "Keep"],
] as const;

/** The leaves by what is to be done with them; what is to be done with none is left out. */
export const leafSays = ({ leaves }: SurenessAnswer): { says: string; codes: string[] }[] =>
  sayWords
    .map(([say, says]) => ({ says, codes: leaves.flatMap((one) => (one.say === say ? [one.leaf] : [])) }))
    .filter(({ codes }) => codes.length > 0);

/** The one photo that settles most, or that none is needed. */
export const photoWords = ({ photo }: SurenessAnswer): string => {
  if (photo === null) return "No single photo would settle more.";
  const { one, other } = photo;
  return `The photo to take next: ${one.leaf} face ${one.face} beside ${other.leaf} face ${other.face} in one picture.`;
};

/** In how many of the redraws a place holds another leaf or another side of it. */
export const changeWords = (one: SurenessAnswer["decisions"][number], redraws: number): string =>
  `${one.leaf} in ${atWords(one)}${one.turned ? ", turned" : ""}: another in ${Math.round(redraws * one.share)} of ${redraws} redraws.`;
