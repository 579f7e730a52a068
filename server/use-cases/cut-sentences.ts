import type { CutDifference } from "../../analysis/grain/cut.ts";
import type { FaceRef } from "../site.ts";

/** Two faces of one view whose cuts differ. */
export interface CutPair {
  readonly a: FaceRef;
  readonly b: FaceRef;
  readonly difference: CutDifference;
}

const kindWords = {
  face: "Cut",
  stile: "Stiles",
  rail: "Rails",
  muntin: "Muntins",
  panel: "Panels",
  board: "Boards",
} as const satisfies Record<CutDifference["kind"], string>;

const named = ({ leaf, face }: FaceRef): string => `${leaf} ${face}`;

const listed = (faces: readonly string[]): string => [...new Set(faces)].toSorted().join(", ");

/** Faces on which each figure shows: "crown on W03 A, straight on W07 B, W08 A". */
const figureSays = (pairs: readonly CutPair[]): string => {
  const showing = (figure: string) =>
    pairs.flatMap(({ a, b, difference: { one, other } }) => [
      ...(one === figure ? [named(a)] : []),
      ...(other === figure ? [named(b)] : []),
    ]);
  return `crown on ${listed(showing("crown"))}, straight on ${listed(showing("straight"))}`;
};

/** How far apart two leans are, degrees: an axis has no ends, so never more than 90. */
const leanApart = (one: number, other: number): number => Math.abs(((one - other + 270) % 180) - 90);

const numbersSay = ({ a, b, difference }: CutPair): string => {
  const [one, other] = [Number(difference.one), Number(difference.other)];
  return difference.what === "direction"
    ? `grain leans ${Math.round(leanApart(one, other))}° apart on ${named(a)} and ${named(b)}`
    : `lines every ${Math.round(one)} mm on ${named(a)}, every ${Math.round(other)} mm on ${named(b)}`;
};

/** How much a pair differs, to find the one that shows it most. */
const size = ({ difference: { what, one, other } }: CutPair): number =>
  what === "direction"
    ? leanApart(Number(one), Number(other))
    : Math.abs(Math.log(Number(one)) - Math.log(Number(other)));

/** How the cuts of faces seen together differ: a sentence for each kind of part and each way, by the pair that shows it most. */
export const cutSentences = (pairs: readonly CutPair[]): string[] => {
  const keyOf = ({ difference: { kind, what } }: CutPair) => `${kind} ${what}`;
  return [...new Set(pairs.map(keyOf))].flatMap((key) => {
    const group = pairs.filter((pair) => keyOf(pair) === key);
    const [first] = group;
    if (!first) return [];
    const says =
      first.difference.what === "figure"
        ? figureSays(group)
        : numbersSay(group.reduce((most, one) => (size(one) > size(most) ? one : most)));
    return [`${kindWords[first.difference.kind]}: ${says}.`];
  });
};
