import type { FaceLayout, Part, RectMm } from "../leaf-parts.ts";
import { type Axis, lineEvidence } from "./line-evidence.ts";
import type { FaceGrid } from "./resample.ts";

/** How far a line of a pattern may lie off the joint it stands for, mm: proportions differ by as much from maker to maker. Common practice, no source. */
const usualReachMm = 25;

/** Spread of the lines of a roughly known pattern about the joints, mm. */
const placeSpreadMm = 15;

/** Lines near each other bound one moulding and keep their distance: to this, mm, and to this share of it. */
const apartSpreadMm = 2.5;
const apartShare = 0.06;

/** A joint counts from this evidence on (1 is what the wood itself shows), and tends to be beyond doubt with so much more. */
const leastEvidence = 3;
const sureEvidence = 4;

/** What a joint beyond doubt is worth, in squared spreads: more than the reach costs. */
const mostWorth = 10;

/** What is seen of a joint reaches at most this far from its best place, mm: a groove and its shadow. */
const broadestMm = 6;

/** A line this near its joint is right, mm: it stays, so that the same wood is measured in every photo. */
const rightMm = 2;

/** Places tried lie this far apart, mm. */
const stepMm = 1;

/** Lines closer to each other, or to the edge of the face, than this are one, mm. */
const sameMm = 2;

/** A line of the pattern drawn to a joint: where it was, how far it moved, how clear the joint is there (0 not seen, 1 beyond doubt). */
export interface SeenLine {
  readonly axis: Axis;
  readonly atMm: number;
  readonly shiftMm: number;
  readonly clearness: number;
}

/** A pattern as it is seen on a face: the same parts, their rectangles drawn to the joints. */
export interface SeenLayout {
  readonly layout: FaceLayout;
  readonly lines: readonly SeenLine[];
}

/**
 * Draws the lines of a pattern to the joints and mouldings seen near them, all lines of one direction together: each wants
 * a clear joint within `reachMm`, all want to stay where the pattern has them, and near ones to keep their distance.
 * The best set is found by dynamic programming from line to line. Where nothing is seen, nothing moves.
 */
export const seenLayout = (grid: FaceGrid, layout: FaceLayout, reachMm = usualReachMm): SeenLayout => {
  const across = drawnTo(grid, linesOf(layout, "x"), "x", reachMm);
  const down = drawnTo(grid, linesOf(layout, "y"), "y", reachMm);
  const parts = layout.parts.map((part): Part => {
    const [x, y, width, height] = part.rectMm;
    const left = moved(across, x);
    const top = moved(down, y);
    const rectMm: RectMm = [left, top, moved(across, x + width) - left, moved(down, y + height) - top];
    return { ...part, rectMm };
  });
  return { layout: { ...layout, parts }, lines: [...across, ...down] };
};

const moved = (lines: readonly SeenLine[], atMm: number): number =>
  atMm + (lines.find((line) => Math.abs(line.atMm - atMm) < sameMm)?.shiftMm ?? 0);

/** A line of the pattern, and the stretches along it where parts border on it, mm. */
interface PatternLine {
  readonly atMm: number;
  readonly spans: (readonly [number, number])[];
}

const linesOf = ({ parts, widthMm, heightMm }: FaceLayout, axis: Axis): PatternLine[] => {
  const size = axis === "x" ? widthMm : heightMm;
  const lines: PatternLine[] = [];
  for (const { rectMm } of parts) {
    const [x, y, width, height] = rectMm;
    const [from, length, start, run] = axis === "x" ? [x, width, y, height] : [y, height, x, width];
    for (const atMm of [from, from + length]) {
      if (atMm < sameMm || atMm > size - sameMm) continue;
      const line = lines.find((one) => Math.abs(one.atMm - atMm) < sameMm);
      if (line) line.spans.push([start, start + run]);
      else lines.push({ atMm, spans: [[start, start + run]] });
    }
  }
  return lines.sort((one, other) => one.atMm - other.atMm);
};

const drawnTo = (grid: FaceGrid, lines: readonly PatternLine[], axis: Axis, reachMm: number): SeenLine[] => {
  const shifts = Array.from({ length: 2 * Math.floor(reachMm / stepMm) + 1 }, (_, i) => i * stepMm - reachMm);
  const clearness = lines.map(({ atMm, spans }) => {
    const seen = lineEvidence(grid, axis, spans, atMm - reachMm, atMm + reachMm);
    return shifts.map((shift) => (seen ? clearOf(valueAt(seen, atMm + shift, grid.mmPerCell)) : 0));
  });
  const best = bestShifts(lines, shifts, clearness);
  return lines.map(({ atMm }, i) => {
    const shiftMm = middleOf(shifts, clearness[i]!, best[i]!);
    return { axis, atMm, shiftMm: Math.abs(shiftMm) < rightMm ? 0 : shiftMm, clearness: clearness[i]![best[i]!]! };
  });
};

/** A joint is some mm broad: the middle of what is seen of it about the best place, weighted by how clear it is; that place where nothing is. */
const middleOf = (shifts: readonly number[], clearness: readonly number[], best: number): number => {
  let from = best;
  let to = best;
  const within = (k: number): boolean => (clearness[k] ?? 0) > 0 && Math.abs(k - best) * stepMm <= broadestMm;
  while (within(from - 1)) from--;
  while (within(to + 1)) to++;
  let sum = 0;
  let weight = 0;
  for (let k = from; k <= to; k++) {
    sum += shifts[k]! * clearness[k]!;
    weight += clearness[k]!;
  }
  return weight > 0 ? sum / weight : shifts[best]!;
};

const valueAt = (
  { startMm, values }: { readonly startMm: number; readonly values: Float32Array },
  atMm: number,
  mmPerCell: number,
): number => {
  const at = (atMm - startMm) / mmPerCell;
  const i = Math.floor(at);
  if (i < 0 || i + 1 >= values.length) return 0;
  return values[i]! + (at - i) * (values[i + 1]! - values[i]!);
};

const clearOf = (evidence: number): number => 1 - Math.exp(-Math.max(0, evidence - leastEvidence) / sureEvidence);

/** For each line the number of its shift, so that all together are worth most. */
const bestShifts = (
  lines: readonly PatternLine[],
  shifts: readonly number[],
  clearness: readonly (readonly number[])[],
): number[] => {
  const worth = (line: number, k: number): number =>
    mostWorth * clearness[line]![k]! - (shifts[k]! / placeSpreadMm) ** 2 / 2;
  let totals = shifts.map((_, k) => (lines.length > 0 ? worth(0, k) : 0));
  const from: number[][] = [];
  for (let line = 1; line < lines.length; line++) {
    const apart = lines[line]!.atMm - lines[line - 1]!.atMm;
    const spread = apartSpreadMm + apartShare * apart;
    const before = totals;
    const came = shifts.map(() => 0);
    totals = shifts.map((shift, k) => {
      let most = Number.NEGATIVE_INFINITY;
      for (const [m, other] of shifts.entries()) {
        if (shift - other <= -apart) continue;
        const total = before[m]! - ((shift - other) / spread) ** 2 / 2;
        if (total > most) {
          most = total;
          came[k] = m;
        }
      }
      return most + worth(line, k);
    });
    from.push(came);
  }
  const best = [totals.indexOf(Math.max(...totals))];
  for (let line = lines.length - 2; line >= 0; line--) best.unshift(from[line]![best[0]!]!);
  return best;
};
