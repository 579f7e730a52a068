import type { Delivery, Opening } from "../contract/delivery.ts";
import type { Leaf } from "../contract/leaf.ts";

const rating = /^([A-Z]+)(\d+)(S?)$/;

/** Whether a leaf of one rating may hang where another is asked for: same scheme, at least the minutes, smoke if asked. */
const ratingServes = (has: string | null, asked: string | null): boolean => {
  if (asked === null || has === asked) return true;
  const one = rating.exec(has ?? "");
  const other = rating.exec(asked);
  if (!one || !other) return false;
  return one[1] === other[1] && Number(one[2]) >= Number(other[2]) && (other[3] === "" || one[3] === "S");
};

/**
 * Why a leaf cannot hang in an opening, or null when it can: its order line must be one of the opening's, it must be as
 * ordered, of the line's pattern (so of its size), and rated at least as the opening asks. A rating that is not written as
 * letters and minutes ("FD30", "FD30S") serves only where the same is asked. Common practice, no source.
 */
export const whyNotInOpening = (leaf: Leaf, opening: Opening, delivery: Delivery): string | null => {
  const line = delivery.lines.find(({ id }) => id === leaf.line);
  if (!line || !opening.lines.includes(line.id)) return `${leaf.code} was not ordered for ${opening.id}`;
  if (leaf.identity !== "as-ordered") return `${leaf.code} is not as ordered`;
  if (leaf.pattern !== line.pattern) return `${leaf.code} has another size or pattern than ${opening.id} asks for`;
  if (!ratingServes(line.fireRating, opening.fireRating))
    return `${opening.id} asks for ${opening.fireRating}, ${leaf.code} is ${line.fireRating ?? "not rated"}`;
  return null;
};
