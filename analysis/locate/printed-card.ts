import { fitHomography, project, worstMisfit } from "../homography.ts";
import type { Pixels, Point, Quad } from "../pixels.ts";
import { cardCodeMm, cardCodesMm, cornersMm, printedCard, readCardCode } from "../reference-card.ts";
import type { FoundCode, FoundReference } from "./found.ts";
import { crossing, principalLine } from "./lens-bow.ts";
import { sideOptions } from "./side-options.ts";

/** Misfit of the codes' corners to one flat card, mm, at which the score is a half. */
const halfMisfitMm = 2;

/**
 * Our printed cards, from those of their codes that were read. Their known corners are sharpened, then fitted to the
 * card's geometry; two cards in one photo are told apart by their ids.
 */
export const findPrintedCards = (pixels: Pixels, codes: readonly FoundCode[]): FoundReference[] => {
  const cards = new Map<string, { mm: Point[]; px: Point[] }>();
  const named = codes.flatMap((code) => {
    const card = readCardCode(code.text);
    return card ? [{ ...card, corners: code.corners }] : [];
  });
  for (const { id, corner, corners } of named) {
    const card = cards.get(id) ?? { mm: [], px: [] };
    const [left, top] = cardCodesMm[corner - 1]!;
    const sharp = sharpenCode(pixels, corners);
    // The fourth corner has no finder pattern: readers infer it. With other codes of the card it is not needed.
    const alone = named.filter((other) => other.id === id).length === 1;
    for (const k of alone ? [0, 1, 2, 3] : [0, 1, 3]) {
      const [x, y] = cornersMm(cardCodeMm, cardCodeMm)[k]!;
      card.mm.push([left + x, top + y]);
      card.px.push(sharp[k]!);
    }
    cards.set(id, card);
  }
  return [...cards].flatMap(([id, { mm, px }]) => {
    const toPhoto = fitHomography(mm, px);
    const toCard = fitHomography(px, mm);
    if (toPhoto === null || toCard === null) return [];
    const misfit = mm.length > 4 ? worstMisfit(toCard, px, mm) : halfMisfitMm / 2;
    const corner = (k: number): Point => project(toPhoto, cornersMm(printedCard.widthMm, printedCard.heightMm)[k]!);
    const corners: Quad = [corner(0), corner(1), corner(2), corner(3)];
    return [{ kind: "card" as const, id, corners, score: 1 / (1 + (misfit / halfMisfitMm) ** 2), byHand: false }];
  });
};

/** Smallest side of a code whose finder patterns are wide enough to fit lines to, px. */
const leastCodePx = 60;

/** Part of a side that a finder pattern covers in any code up to 37 modules (version 5): 7 of them. */
const finderShare = 0.18;

/**
 * A code's corners to a fraction of a pixel: readers round them to whole pixels. The outer edges of the three finder
 * patterns give three corners; the fourth moves by the mean of their moves.
 */
export const sharpenCode = (pixels: Pixels, corners: Quad): Quad => {
  const [a, b, c, d] = corners;
  if (Math.min(Math.hypot(b[0] - a[0], b[1] - a[1]), Math.hypot(d[0] - a[0], d[1] - a[1])) < leastCodePx)
    return corners;
  const top = edgePart(pixels, a, b, 0, finderShare).concat(edgePart(pixels, a, b, 1 - finderShare, 1));
  const left = edgePart(pixels, d, a, 0, finderShare).concat(edgePart(pixels, d, a, 1 - finderShare, 1));
  const right = edgePart(pixels, b, c, 0, finderShare);
  const bottom = edgePart(pixels, c, d, 1 - finderShare, 1);
  if ([top, left, right, bottom].some((points) => points.length < 12)) return corners;
  const lines = [top, right, bottom, left].map(principalLine);
  const sharp = [
    crossing(lines[3]!, lines[0]!),
    crossing(lines[0]!, lines[1]!),
    crossing(lines[2]!, lines[3]!),
  ] as const;
  const moves = [a, b, d].map((p, i) => [sharp[i as 0][0] - p[0], sharp[i as 0][1] - p[1]] as const);
  if (moves.some(([x, y]) => Math.hypot(x, y) > 4)) return corners;
  const shift = (axis: 0 | 1): number => moves.reduce((sum, move) => sum + move[axis], 0) / 3;
  return [sharp[0], sharp[1], [c[0] + shift(0), c[1] + shift(1)], sharp[2]];
};

const edgePart = (pixels: Pixels, from: Point, to: Point, start: number, stop: number): Point[] => {
  const at = (u: number): Point => [from[0] + (to[0] - from[0]) * u, from[1] + (to[1] - from[1]) * u];
  // A little in from the corner, where the other side's blur does not reach.
  const inset = 0.02;
  const search = { reachPx: 3, thicknessPx: 0, neighbourPx: 0 };
  return [...(sideOptions(pixels, at(start + inset), at(stop - inset), search)[0]?.points ?? [])];
};
