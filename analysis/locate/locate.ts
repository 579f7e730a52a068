import type { FaceLayout } from "../leaf-parts.ts";
import { plainLens } from "../lens.ts";
import type { Pixels, Quad } from "../pixels.ts";
import type { ReferenceLayout } from "../reference-card.ts";
import { findChart } from "./chart.ts";
import { edgeLines } from "./edge-lines.ts";
import type { FoundCode, FoundReference, LeafOutcome, Located, WhyMissing } from "./found.ts";
import { findGreyCard } from "./grey-card.ts";
import { type LeafCandidate, leafCandidates, usualSearch } from "./leaf-candidates.ts";
import { type SharpOutline, sharpenOutlines } from "./leaf-outlines.ts";
import { bestRow } from "./leaf-row.ts";
import { findPrintedCards } from "./printed-card.ts";
import { whyMissing } from "./why-missing.ts";
import { type WorkingPicture, workingPicture } from "./working-picture.ts";

/** What a user knows of a photo before it is measured. */
export interface Expected {
  /** The leaves shown whole, left to right; empty for a detail. */
  readonly leaves: readonly FaceLayout[];
  /** The references laid into the picture, with their sizes. */
  readonly references: readonly ReferenceLayout[];
  /** Corners that a person set, one place a leaf; they are handed back untouched. */
  readonly handCorners?: readonly (Quad | null)[];
}

/** Below this score an outline is handed to a person. */
const leastScore = 0.5;

/** Finds the leaves and the references of one photo. */
export const locate = (pixels: Pixels, expected: Expected, codes: readonly FoundCode[]): Located => {
  const picture = workingPicture(pixels);
  const { leaves, lens } = locateLeaves(pixels, picture, expected);
  const scale = scaleOf(leaves, expected.leaves);
  return { leaves, references: locateReferences(pixels, picture, expected.references, codes, scale), lens };
};

const locateReferences = (
  pixels: Pixels,
  picture: WorkingPicture,
  wanted: readonly ReferenceLayout[],
  codes: readonly FoundCode[],
  pxPerMm: number | null,
): FoundReference[] =>
  wanted.flatMap((layout) => {
    if (layout.kind === "card") return findPrintedCards(pixels, codes);
    const found =
      layout.kind === "chart" ? findChart(pixels, picture, layout) : findGreyCard(pixels, picture, layout, pxPerMm);
    return found ? [found] : [];
  });

/** Photo px for a mm on the leaves found, their mean; null when there is none. */
const scaleOf = (outcomes: readonly LeafOutcome[], layouts: readonly FaceLayout[]): number | null => {
  const scales = outcomes.flatMap((outcome, i) => {
    if (outcome.kind !== "found") return [];
    const [a, b, c, d] = outcome.corners;
    return [Math.hypot(c[0] + d[0] - a[0] - b[0], c[1] + d[1] - a[1] - b[1]) / (2 * layouts[i]!.heightMm)];
  });
  return scales.length > 0 ? scales.reduce((sum, scale) => sum + scale, 0) / scales.length : null;
};

const locateLeaves = (
  pixels: Pixels,
  picture: WorkingPicture,
  { leaves, handCorners = [] }: Expected,
): Pick<Located, "leaves" | "lens"> => {
  const byHand = leaves.map((_, i) => handCorners[i] ?? null);
  const plain = plainLens(pixels.width, pixels.height);
  if (byHand.every((corners) => corners !== null)) return { leaves: byHand.map(setByHand), lens: plain };
  const leastPx = usualSearch.leastHeight * picture.height;
  const slimmest = Math.min(...leaves.map(({ widthMm, heightMm }) => widthMm / heightMm));
  const upright = edgeLines(picture, "upright", leastPx);
  const level = edgeLines(picture, "level", leastPx * slimmest);
  const bySize = new Map<string, LeafCandidate[]>();
  const lists = leaves.map((layout, i) => {
    const set = byHand[i];
    // A leaf that a person outlined shows its neighbours how large they are and where they stand.
    if (set) return { candidates: [{ corners: scaled(set, 1 / picture.block), score: 1 }], heightMm: layout.heightMm };
    const size = `${layout.widthMm} x ${layout.heightMm}`;
    const candidates = bySize.get(size) ?? leafCandidates(upright, level, picture, layout);
    bySize.set(size, candidates);
    return { candidates, heightMm: layout.heightMm };
  });
  const missing = (i: number, otherwise: WhyMissing, score: number): LeafOutcome => ({
    kind: "not-found",
    why: whyMissing(picture, leaves[i]!, otherwise),
    score,
  });
  const row = bestRow(lists);
  if (row === null) {
    return { leaves: byHand.map((set, i) => (set ? setByHand(set) : missing(i, "no-outline", 0))), lens: plain };
  }
  const { outlines, lens } = sharpen(pixels, picture, row, leaves);
  return {
    leaves: outlines.map((outline, i): LeafOutcome => {
      const set = byHand[i];
      if (set) return setByHand(set);
      const score = scoreOf(row[i]!, outline);
      if (score < leastScore) return missing(i, "unsure", score);
      return { kind: "found", corners: outline.corners, score, byHand: false };
    }),
    lens,
  };
};

const scaled = ([a, b, c, d]: Quad, by: number): Quad => [
  [a[0] * by, a[1] * by],
  [b[0] * by, b[1] * by],
  [c[0] * by, c[1] * by],
  [d[0] * by, d[1] * by],
];

const sharpen = (
  pixels: Pixels,
  { block }: WorkingPicture,
  row: readonly LeafCandidate[],
  leaves: readonly FaceLayout[],
): ReturnType<typeof sharpenOutlines> =>
  sharpenOutlines(
    pixels,
    row.map(({ corners }, i) => {
      const { widthMm, heightMm } = leaves[i]!;
      return { corners: scaled(corners, block), widthMm, heightMm };
    }),
    roughnessPx * block,
  );

/** How far a line of the working picture may lie off the edge it stands for, px of that picture. */
const roughnessPx = 2.5;

/** Share of a side that must be seen sharp for full marks: the rest may be hidden by a card, a hand, packing. */
const seenEnough = 0.75;

/** From 0 to 1: how clear the outline is among its surroundings, how much of it is seen, and how well its shape fits. */
const scoreOf = (candidate: LeafCandidate, { seen, strain }: SharpOutline): number =>
  Math.sqrt(candidate.score) * Math.min(1, seen / seenEnough) * Math.exp(-strain / 8);

const setByHand = (corners: Quad): LeafOutcome => ({ kind: "found", corners, score: 1, byHand: true });
