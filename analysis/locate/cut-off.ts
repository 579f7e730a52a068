import { type EdgeLine, linePart, step } from "./edge-lines.ts";
import type { Frame } from "./rectangle-shape.ts";

/** Strip along the border of the picture in which an edge must still be seen to run out of it, share of the length. */
const borderShare = 0.06;

/** Share of that strip that must be seen, and the step of colour across it, codes. */
const leastSeen = 0.6;
const leastStep = 10;

/** A leaf counts as cut off when it would reach past the border by this share of its own length. */
const leastCut = 0.01;

/**
 * Whether a leaf of this size runs out of the picture: two of its edges reach the border, and at the scale that their
 * distance gives, the leaf is longer than what is left from its opposite edge, or than the whole picture. Asked only when
 * no whole outline was found, to tell a leaf that is cut off from one that is hard to see.
 */
export const runsOut = (
  upright: readonly EdgeLine[],
  level: readonly EdgeLine[],
  { width, height }: Frame,
  { widthMm, heightMm }: { readonly widthMm: number; readonly heightMm: number },
): boolean =>
  pairRunsOut(upright, level, width, height, heightMm / widthMm) ||
  pairRunsOut(level, upright, height, width, widthMm / heightMm);

/** `along` lines run the length of the picture, at most `across` apart; a leaf is `ratio` times as long as they are apart. */
const pairRunsOut = (
  along: readonly EdgeLine[],
  ends: readonly EdgeLine[],
  across: number,
  length: number,
  ratio: number,
): boolean => {
  const mid = length / 2;
  const strip = borderShare * length;
  const atStart = along.filter((line) => reaches(line, 0, strip));
  const atEnd = along.filter((line) => reaches(line, length - strip, length));
  const tooLong = (lines: readonly EdgeLine[], left: (middle: number) => readonly number[]): boolean =>
    lines.some((one) =>
      lines.some((other) => {
        const apart = placeAt(other, mid) - placeAt(one, mid);
        if (apart < across / 8) return false;
        const middle = (placeAt(other, mid) + placeAt(one, mid)) / 2;
        const leaf = apart * ratio * (1 - leastCut);
        return leaf > length || left(middle).some((rest) => rest < leaf && rest > leaf / 3);
      }),
    );
  const clear = ends.filter((line) => reaches(line, across * 0.3, across * 0.7));
  return (
    tooLong(atStart, (middle) => clear.map((end) => placeAt(end, middle))) ||
    tooLong(atEnd, (middle) => clear.map((end) => length - placeAt(end, middle)))
  );
};

const placeAt = ({ offset, slope }: EdgeLine, at: number): number => offset + slope * at;

const reaches = (line: EdgeLine, from: number, to: number): boolean => {
  const part = linePart(line, from, to);
  return part !== null && part.seen > leastSeen && step(part) > leastStep;
};
