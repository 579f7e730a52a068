import type { Mark, Pattern } from "../contract/leaf.ts";

type Box = Mark["box"];
type Side = "left" | "right";

/** A mark whose box comes this near to two edges lies in the corner, mm. */
const cornerMm = 60;

const overlap = ([x, y, w, h]: readonly [number, number, number, number], box: Box): number =>
  Math.max(0, Math.min(x + w, box.x + box.w) - Math.max(x, box.x)) *
  Math.max(0, Math.min(y + h, box.y + box.h) - Math.max(y, box.y));

const third = <T>(position: number, words: readonly [T, T, T]): T =>
  position < 1 / 3 ? words[0] : position < 2 / 3 ? words[1] : words[2];

/** A part's name as said aloud: "rail-mid-1" and "mid-rail-1" are both "mid rail 1". */
export const partWords = ({ name, kind }: { readonly name: string; readonly kind: string }): string => {
  const words = name.split("-").filter((word) => word !== kind);
  const isNumber = (word: string): boolean => /^\d+$/.test(word);
  return [...words.filter((word) => !isNumber(word)), kind, ...words.filter(isNumber)].join(" ");
};

/**
 * Where a mark lies on a face, in the trade's words: "closing stile, middle third", "hanging side, upper third" on a
 * flush leaf, "bottom closing corner" where it reaches a corner. `hangingSide` is the hinge side as seen on this face;
 * while it is not known the words are left and right as seen.
 */
export const markPlace = (pattern: Pattern, box: Box, hangingSide: Side | null): string => {
  const { widthMm, heightMm } = pattern;
  const named = (side: Side): string => (hangingSide ? (side === hangingSide ? "hanging" : "closing") : side);
  const across = (box.x + box.w / 2) / widthMm;
  const down = (box.y + box.h / 2) / heightMm;
  const nearSide: Side | null = box.x <= cornerMm ? "left" : box.x + box.w >= widthMm - cornerMm ? "right" : null;
  const nearEnd = box.y <= cornerMm ? "top" : box.y + box.h >= heightMm - cornerMm ? "bottom" : null;
  const tooLargeForACorner = box.w > widthMm / 3 || box.h > heightMm / 3;
  if (nearSide && nearEnd && !tooLargeForACorner) return `${nearEnd} ${named(nearSide)} corner`;

  const level = third(down, ["upper third", "middle third", "lower third"]);
  const sideOrCentre = third(across, [`${named("left")} side`, "centre", `${named("right")} side`]);
  const [part] = pattern.parts.toSorted((a, b) => overlap(b.rectMm, box) - overlap(a.rectMm, box));
  if (!part || part.kind === "face" || overlap(part.rectMm, box) === 0) return `${sideOrCentre}, ${level}`;
  if (part.kind === "stile") return `${named(across < 0.5 ? "left" : "right")} stile, ${level}`;
  return part.kind === "rail" ? `${partWords(part)}, ${sideOrCentre}` : `${partWords(part)}, ${level} of the leaf`;
};
