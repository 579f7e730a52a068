import type { LeafCandidate } from "./leaf-candidates.ts";

/** Widest gap between neighbours of a row, in widths of a leaf. */
const widestGap = 0.5;

/** Overlap of neighbours that rounding of the lines may feign, in widths of a leaf. */
const mostOverlap = 0.03;

/** Log ratio of scale (px per mm) from one leaf to the next that costs one unit: they stand against one wall. */
const scaleStep = 0.06;

/** Offset of the bottoms across a gap, in heights of a leaf, that costs one unit: they stand on one floor. */
const bottomStep = 0.015;

/** A candidate with the height that its leaf has in mm. */
interface Standing {
  readonly candidate: LeafCandidate;
  readonly pxPerMm: number;
}

/**
 * The row of leaves, left to right, that fits together best: one candidate from each list, side by side, of one scale, on
 * one floor. `null` when no such row exists. Dynamic programming over the leaves.
 */
export const bestRow = (
  lists: readonly { readonly candidates: readonly LeafCandidate[]; readonly heightMm: number }[],
): LeafCandidate[] | null => {
  let ways: { standing: Standing; total: number; row: LeafCandidate[] }[] = [];
  for (const [place, { candidates, heightMm }] of lists.entries()) {
    const next: typeof ways = [];
    for (const candidate of candidates) {
      const standing = { candidate, pxPerMm: heightPx(candidate) / heightMm };
      const own = Math.log(candidate.score + 1e-9);
      if (place === 0) {
        next.push({ standing, total: own, row: [candidate] });
        continue;
      }
      let best: (typeof ways)[number] | null = null;
      let bestTotal = Number.NEGATIVE_INFINITY;
      for (const way of ways) {
        const cost = strain(way.standing, standing);
        if (way.total - cost > bestTotal && cost < 20) {
          best = way;
          bestTotal = way.total - cost;
        }
      }
      if (best) next.push({ standing, total: bestTotal + own, row: [...best.row, candidate] });
    }
    ways = next;
  }
  let found: (typeof ways)[number] | null = null;
  for (const way of ways) if (found === null || way.total > found.total) found = way;
  return found?.row ?? null;
};

const heightPx = ({ corners: [a, b, c, d] }: LeafCandidate): number => (d[1] + c[1] - a[1] - b[1]) / 2;

/** How badly two leaves stand beside each other, 0 for well; beyond 20 not at all. */
const strain = (left: Standing, right: Standing): number => {
  const [, topRight, bottomRight] = left.candidate.corners;
  const [topLeft, nextTopRight, , bottomLeft] = right.candidate.corners;
  const width = nextTopRight[0] - topLeft[0];
  const gap = (topLeft[0] + bottomLeft[0] - topRight[0] - bottomRight[0]) / (2 * width);
  if (gap < -mostOverlap || gap > widestGap) return 99;
  const scale = Math.log(right.pxPerMm / left.pxPerMm) / scaleStep;
  const bottom = (bottomLeft[1] - bottomRight[1]) / (heightPx(left.candidate) * bottomStep);
  return (scale * scale + bottom * bottom) / 2 + gap;
};
