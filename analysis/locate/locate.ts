import type { FaceLayout } from "../leaf-parts.ts";
import { plainLens } from "../lens.ts";
import type { Pixels, Quad } from "../pixels.ts";
import type { ReferenceLayout } from "../reference-card.ts";
import { edgeLines } from "./edge-lines.ts";
import type { FoundCode, FoundReference, LeafOutcome, Located } from "./found.ts";
import { type LeafCandidate, leafCandidates, leastHeight } from "./leaf-candidates.ts";
import { sharpenOutlines } from "./leaf-outlines.ts";
import { bestRow } from "./leaf-row.ts";
import { findPrintedCards } from "./printed-card.ts";
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
  return { leaves, references: locateReferences(pixels, expected.references, codes), lens };
};

const locateReferences = (
  pixels: Pixels,
  wanted: readonly ReferenceLayout[],
  codes: readonly FoundCode[],
): FoundReference[] => (wanted.some(({ kind }) => kind === "card") ? findPrintedCards(pixels, codes) : []);

const locateLeaves = (
  pixels: Pixels,
  picture: WorkingPicture,
  { leaves, handCorners = [] }: Expected,
): Pick<Located, "leaves" | "lens"> => {
  const byHand = leaves.map((_, i) => handCorners[i] ?? null);
  const plain = plainLens(pixels.width, pixels.height);
  if (byHand.every((corners) => corners !== null)) return { leaves: byHand.map(setByHand), lens: plain };
  const leastPx = leastHeight * picture.height;
  const slimmest = Math.min(...leaves.map(({ widthMm, heightMm }) => widthMm / heightMm));
  const upright = edgeLines(picture, "upright", leastPx);
  const level = edgeLines(picture, "level", leastPx * slimmest);
  const bySize = new Map<string, LeafCandidate[]>();
  const lists = leaves.map((layout) => {
    const size = `${layout.widthMm} x ${layout.heightMm}`;
    const candidates = bySize.get(size) ?? leafCandidates(upright, level, picture, layout);
    bySize.set(size, candidates);
    return { candidates, heightMm: layout.heightMm };
  });
  const row = bestRow(lists);
  if (row === null) {
    return { leaves: byHand.map((corners) => (corners ? setByHand(corners) : missing)), lens: plain };
  }
  const rough = row.map((candidate, i) => roughly(candidate, picture.block, leaves[i]!.heightMm));
  const { outlines, lens } = sharpenOutlines(pixels, rough, 2.5 * picture.block);
  return {
    leaves: outlines.map(({ corners, seen }, i): LeafOutcome => {
      const set = byHand[i];
      if (set) return setByHand(set);
      const score = row[i]!.score * seen;
      return score < leastScore
        ? { kind: "not-found", why: "unsure", score }
        : { kind: "found", corners, score, byHand: false };
    }),
    lens,
  };
};

const setByHand = (corners: Quad): LeafOutcome => ({ kind: "found", corners, score: 1, byHand: true });

const missing: LeafOutcome = { kind: "not-found", why: "no-outline", score: 0 };

/** A candidate of the working picture in photo px, with its scale. */
const roughly = ({ corners: [a, b, c, d] }: LeafCandidate, block: number, heightMm: number) => {
  const scaled = ([x, y]: readonly [number, number]) => [x * block, y * block] as const;
  return {
    corners: [scaled(a), scaled(b), scaled(c), scaled(d)] as const,
    pxPerMm: (block * (c[1] + d[1] - a[1] - b[1])) / (2 * heightMm),
  };
};
