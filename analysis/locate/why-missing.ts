import { runsOut } from "./cut-off.ts";
import { edgeLines } from "./edge-lines.ts";
import type { WhyMissing } from "./found.ts";
import { type LeafCandidate, leafCandidates, usualSearch } from "./leaf-candidates.ts";
import { viewAngle } from "./rectangle-shape.ts";
import type { WorkingPicture } from "./working-picture.ts";

interface Size {
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Least score of a candidate that explains why no leaf was found where leaves are usual. */
const leastScore = 0.3;

/** From this share of the picture's height down nothing is told from its surround any more. */
const smallest = 0.08;

/** Angle, degrees, from which on a leaf is no longer looked for as usual: its width is down by a third. */
const leastAngle = 40;

/**
 * Seen from 70 degrees aside a leaf is a third as wide, and its level edges lean by as much as 45 degrees; there an error of
 * a tenth in the guessed focal length moves its ratio by a third.
 */
const askance = { leastHeight: usualSearch.leastHeight, narrowed: 2, guessSpread: 0.3 };
const askanceSteepest = 1;

/**
 * Why a leaf of this size was not found: it runs out of the picture, or it is there smaller or more askance than a leaf can be
 * measured; else what was said of it stays.
 */
export const whyMissing = (picture: WorkingPicture, size: Size, otherwise: WhyMissing): WhyMissing => {
  const slim = size.widthMm / size.heightMm;
  const usualPx = usualSearch.leastHeight * picture.height;
  const upright = edgeLines(picture, "upright", usualPx);
  if (runsOut(upright, edgeLines(picture, "level", usualPx * slim), picture, size)) return "cut-off";
  const steep = edgeLines(picture, "level", (usualPx * slim) / askance.narrowed, askanceSteepest);
  const [aside] = leafCandidates(upright, steep, picture, size, askance);
  if (explains(aside) && viewAngle(aside.corners, picture) > leastAngle) return "too-oblique";
  const leastPx = smallest * picture.height;
  const [small] = leafCandidates(
    edgeLines(picture, "upright", leastPx),
    edgeLines(picture, "level", leastPx * slim),
    picture,
    size,
    { ...usualSearch, leastHeight: smallest },
  );
  if (explains(small) && heightPx(small) < usualPx) return "too-small";
  return otherwise;
};

const explains = (candidate: LeafCandidate | undefined): candidate is LeafCandidate =>
  candidate !== undefined && candidate.score > leastScore;

const heightPx = ({ corners: [a, b, c, d] }: LeafCandidate): number => (d[1] + c[1] - a[1] - b[1]) / 2;
