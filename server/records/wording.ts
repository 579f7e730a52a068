import type { Decision, Leaf, Mark, Pattern } from "../contract/leaf.ts";
import { instantWords } from "./instant-words.ts";
import type { RecordLeaf } from "./record-schema.ts";

/** A kind of mark in the trade's words. */
export const markName = (kind: Mark["kind"]): string =>
  kind === "natural" ? "natural feature" : kind === "other" ? "mark of another kind" : kind.replaceAll("-", " ");

const partyWords = {
  maker: "the making of the leaf",
  carrier: "carriage",
  handling: "handling on site",
  store: "the store on site",
  "other-trades": "other trades",
  order: "the order",
  natural: "nature: it belongs to the wood",
} as const;

/** The cause as an opinion of a named person; an empty text where none was given. */
export const causeWords = (party: Mark["party"], by: string): string =>
  party ? `The cause, in the opinion of ${by}: ${partyWords[party]}.` : "";

/** A number for print: at most two decimals, none that say nothing. */
export const figure = (value: number, decimals = 2): string => String(Number(value.toFixed(decimals)));

const markSize = ({ box, depthMm }: Mark): string =>
  depthMm === null
    ? `${figure(box.w)} x ${figure(box.h)} mm (width x height)`
    : `${figure(box.w)} x ${figure(box.h)} x ${figure(depthMm)} mm (width x height x depth)`;

/** "Recorded as dent by … on …": what was seen, where, how large, by whom. It never says "defective". */
export const markSentence = (mark: Mark, place: string, timeZone: string): string => {
  const seen = [
    `face ${mark.face}`,
    place,
    markSize(mark),
    mark.contrastDE00 === null ? "" : `${figure(mark.contrastDE00, 1)} ΔE00 to the wood round it`,
    mark.seenFromM === null ? "" : `seen from up to ${figure(mark.seenFromM)} m`,
  ].filter((piece) => piece !== "");
  const proposed = mark.foundBy === "photo" ? " Proposed from the photo, confirmed by the person named." : "";
  return `Recorded as ${markName(mark.kind)} by ${mark.by} on ${instantWords(mark.at, timeZone)}: ${seen.join(", ")}.${proposed}`;
};

const outcomeWords = {
  accept: "accepted",
  "accept-with-allowance": "accepted with an allowance",
  hold: "held",
  return: "to be returned",
} as const;

/** What was decided about a leaf, by whom and when; the reason is printed beside it. */
export const decisionSentence = (decision: Decision, timeZone: string, currency: string): string => {
  const allowance = decision.allowance === null ? "" : ` of ${decision.allowance.toFixed(2)} ${currency}`;
  return `Recorded as ${outcomeWords[decision.outcome]}${allowance} by ${decision.by} on ${instantWords(decision.at, timeZone)}.`;
};

/** Whether the leaf is as it came, as far as the ledger knows. */
export const conditionSentence = (leaf: Leaf): string =>
  leaf.cut
    ? "This leaf has been cut, hinged or trimmed on site."
    : "This leaf is uncut and unfitted at the time of issue.";

const identityWords = { "as-ordered": "as ordered", wrong: "not as ordered", over: "more than ordered" } as const;

/** What a leaf is, for the head of its page. */
export const identityWord = (identity: Leaf["identity"]): string => identityWords[identity];

/** "2040 x 926 x 44 mm": height, width, thickness. */
export const leafSize = (pattern: Pattern, thicknessMm: number | null): string =>
  `${[pattern.heightMm, pattern.widthMm, ...(thicknessMm === null ? [] : [thicknessMm])].map((mm) => figure(mm)).join(" x ")} mm`;

const askWords = { replace: "replacement", credit: "credit", repair: "repair" } as const;

/** What is asked for a leaf in one word, or nothing. */
export const askWord = (leaf: RecordLeaf): string => (leaf.decision?.asks ? askWords[leaf.decision.asks] : "");
