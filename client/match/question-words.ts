import type { FewMovesAnswer, LateAnswer, ReplacementAnswer, ReturnsAnswer } from "../../server/contract/questions.ts";
import { figure, partWords } from "../words.ts";

interface At {
  readonly opening: string;
  readonly place: 0 | 1;
}

/** An opening, or the right-hand leaf of its pair. */
export const atWords = ({ opening, place }: At): string => (place === 0 ? opening : `${opening}, second leaf`);

const counted = (count: number, one: string, many: string): string => (count === 1 ? `1 ${one}` : `${count} ${many}`);

/** How many leaves must go back, and how sure that is. */
export const returnsWords = ({ replace, bound, proven, tolerance }: ReturnsAnswer): string => {
  const keeps = `every space to keep ΔE00 ${figure(tolerance, null)}`;
  if (replace.length === 0) return `No leaf needs to go back for ${keeps}.`;
  const sure = proven ? "Proven: fewer will not do." : `Perhaps ${bound} would do; fewer than that will not.`;
  return `${counted(replace.length, "leaf has", "leaves have")} to be replaced for ${keeps}. ${sure}`;
};

export const replaceWords = (one: ReturnsAnswer["replace"][number]): string => {
  const back = one.returned === null ? "a new leaf is needed" : `${one.returned} goes back`;
  const order = one.like
    ? `order one that looks like ${one.like.leaf}${one.like.turned ? " turned round" : ""}`
    : "no delivered leaf shows what would do: see what a new leaf must look like";
  return `${atWords(one)}: ${back}; ${order}.`;
};

/** Which opening waits, and what is seen until the leaf has come and then; a sentence each. */
export const lateWords = ({ leaf, waiting }: LateAnswer): string[] => {
  if (waiting === null) return [`No opening needs to wait for ${leaf}: other leaves fill them all.`];
  const { unseen, counted: known } = waiting;
  const says = (one: typeof unseen) =>
    `worst pair ${figure(one.meanwhile, null)} until it comes, ${figure(one.afterwards, null)} with it`;
  if (known === null)
    return [
      `Leave ${atWords(unseen)} empty: worst pair ${figure(unseen.meanwhile, null)} until it comes.`,
      `${leaf} is compared with nothing yet: what it will look like there is not known.`,
    ];
  const first = `Leave ${atWords(unseen)} empty: ${says(unseen)}.`;
  if (known.opening === unseen.opening && known.place === unseen.place && known.afterwards === unseen.afterwards)
    return [first];
  return [first, `Or, counting on the colour measured on ${leaf}, ${atWords(known)}: ${says(known)}.`];
};

/** How many leaves move and what is left of the worst pair. */
export const movesWords = ({ moved, worst, changed, proven, bound }: FewMovesAnswer): string => {
  const sure = proven ? "" : ` Perhaps ${changed - bound} fewer would do.`;
  return `${counted(moved.length, "leaf moves", "leaves move")}; worst pair ${figure(worst, null)}.${sure}`;
};

export const moveWords = ({ from, to, turned }: FewMovesAnswer["moved"][number]): string => {
  const [was, is] = [from && atWords(from), to && atWords(to)];
  const where = was === is ? `stays in ${is}` : `${was ?? "spare"} → ${is ?? "spare"}`;
  return turned ? `${where}, turned` : where;
};

/** Where the colour to aim at stands beside a delivered face: "A little lighter than W02 face A". */
export const likeWords = ({ like }: ReplacementAnswer["looks"][number]): string => {
  if (like === null) return "";
  const { words, leaf, face } = like;
  return `${words.charAt(0).toUpperCase()}${words.slice(1)} ${leaf} face ${face}`;
};

/** "Corridor, left stile", or the space alone when the leaf is one part. */
export const partInSpace = ({ space, part }: ReplacementAnswer["looks"][number]): string =>
  part === "face" ? space : `${space}, ${partWords(part)}`;
