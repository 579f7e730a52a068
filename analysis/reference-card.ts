import type { RectMm } from "./leaf-parts.ts";
import type { Point } from "./pixels.ts";

/** One field of a reference, in mm from its own top left corner. */
export interface ReferencePatch {
  readonly name: string;
  readonly rectMm: RectMm;
}

/** A flat thing of known size that is the same in every photo. */
export interface ReferenceLayout {
  readonly kind: "card" | "chart" | "grey";
  readonly widthMm: number;
  readonly heightMm: number;
  readonly patches: readonly ReferencePatch[];
}

/** Side of the code's module area on the printed card, mm. */
export const cardCodeMm = 54;

/** Top left corners of the four codes, clockwise from the card's top left, mm. Code n carries the text LL/<ID>/<n>. */
export const cardCodesMm: readonly [Point, Point, Point, Point] = [
  [12, 12],
  [144, 12],
  [144, 231],
  [12, 231],
];

/** Where a grey card or a 24-patch chart may be clipped. */
export const cardWindowMm: RectMm = [56, 85, 98, 127];

/** Our printed sheet, A4 upright. Patch values are not known beforehand: each sheet is its own constants. */
export const printedCard: ReferenceLayout = {
  kind: "card",
  widthMm: 210,
  heightMm: 297,
  patches: [
    { name: "paper-left", rectMm: [12, 85.5, 36, 36] },
    { name: "grey-25", rectMm: [12, 130.5, 36, 36] },
    { name: "grey-50", rectMm: [12, 175.5, 36, 36] },
    { name: "grey-75", rectMm: [162, 85.5, 36, 36] },
    { name: "black", rectMm: [162, 130.5, 36, 36] },
    { name: "paper-right", rectMm: [162, 175.5, 36, 36] },
  ],
};

/**
 * A 24-patch chart, 6 columns and 4 rows on black, row by row from the brown patch. Sizes in mm: patch side, margin
 * from the edge to the first patch, pitch from patch to patch; all may differ from edition to edition.
 */
export const chart24 = (
  { widthMm, heightMm, patchMm, marginMm, pitchMm } = {
    widthMm: 278,
    heightMm: 190,
    patchMm: 38,
    marginMm: 10,
    pitchMm: 44,
  },
): ReferenceLayout => ({
  kind: "chart",
  widthMm,
  heightMm,
  patches: Array.from({ length: 24 }, (_, i) => ({
    name: `patch-${i + 1}`,
    rectMm: [marginMm + pitchMm * (i % 6), marginMm + pitchMm * Math.floor(i / 6), patchMm, patchMm],
  })),
});

/** A plain grey card, mm. */
export const greyCard = (widthMm = 200, heightMm = 250): ReferenceLayout => ({
  kind: "grey",
  widthMm,
  heightMm,
  patches: [{ name: "grey", rectMm: [0, 0, widthMm, heightMm] }],
});

/** The corners of a sheet of this size in mm, clockwise from its top left. */
export const cornersMm = (widthMm: number, heightMm: number): readonly [Point, Point, Point, Point] => [
  [0, 0],
  [widthMm, 0],
  [widthMm, heightMm],
  [0, heightMm],
];

/** The id and the corner (1 to 4) that a code of the card names; `null` for any other text. */
export const readCardCode = (text: string): { id: string; corner: 1 | 2 | 3 | 4 } | null => {
  const match = /^LL\/([^/]+)\/([1-4])$/.exec(text);
  return match?.[1] && match[2] ? { id: match[1], corner: Number(match[2]) as 1 | 2 | 3 | 4 } : null;
};
