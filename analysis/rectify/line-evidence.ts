import type { FaceGrid } from "./resample.ts";

/** "x": a line runs up the face and is told by how far right it lies; "y": it runs across and is told by how far down. */
export type Axis = "x" | "y";

/** Stretches along a line are cut into pieces of about this length, mm, that must agree with each other. */
const pieceMm = 120;

/** Left out at both ends of a stretch, mm: there other joints cross. */
const endMm = 30;

/** Least pieces that a line can be judged by. */
const leastPieces = 2;

/** Light below this is noise: 0.2 % of full scale is half an 8-bit step. */
const darkest = 0.002;

/** Least change of log light that can be told: half a step of an 8-bit code in the middle of the scale. */
const leastChange = 0.004;

/**
 * How much a joint is seen at every place across the axis from `fromMm` to `toMm`, one value a cell border, against what the wood
 * itself shows there (1 is usual): the change of light from one side to the other, and the line itself against both sides,
 * averaged along the line over `spans` (mm), less what the pieces disagree by. `null` when too little is seen.
 */
export const lineEvidence = (
  grid: FaceGrid,
  axis: Axis,
  spans: readonly (readonly [number, number])[],
  fromMm: number,
  toMm: number,
): { readonly startMm: number; readonly values: Float32Array } | null => {
  const across = axis === "x" ? grid.width : grid.height;
  const first = Math.max(0, Math.floor(fromMm / grid.mmPerCell) - margin);
  const last = Math.min(across, Math.ceil(toMm / grid.mmPerCell) + margin);
  const count = last - first;
  const pieces = spans.flatMap(([start, end]) => piecesOf(grid, axis, start + endMm, end - endMm, first, count));
  if (pieces.length < leastPieces || count < 2 * margin + 2) return null;
  const strength = new Float32Array(count - 2 * margin + 1);
  for (let i = 0; i < strength.length; i++) {
    const border = i + margin;
    const step = agreed(pieces, (at) => at(border) - at(border - 1));
    const ridge = agreed(pieces, (at) => (at(border - 1) + at(border) - at(border - 2) - at(border + 1)) / 2);
    strength[i] = Math.hypot(step, ridge);
  }
  const quiet = strength.toSorted().subarray(0, strength.length >> 1);
  const usual = leastChange + quiet.reduce((sum, value) => sum + value, 0) / quiet.length;
  return { startMm: (first + margin) * grid.mmPerCell, values: strength.map((value) => value / usual) };
};

/** Cells on both sides of a border that its evidence reads. */
const margin = 2;

/** Log light of one piece of a line, R, G, B for each cell across; NaN where nothing was usable. */
type Piece = Float32Array;

const piecesOf = (
  { data, usable, width, mmPerCell, height }: FaceGrid,
  axis: Axis,
  startMm: number,
  endOfMm: number,
  first: number,
  count: number,
): Piece[] => {
  const along = axis === "x" ? height : width;
  const start = Math.max(0, Math.ceil(startMm / mmPerCell));
  const end = Math.min(along, Math.floor(endOfMm / mmPerCell));
  const many = Math.max(1, Math.round(((end - start) * mmPerCell) / pieceMm));
  if (end - start < pieceMm / 4 / mmPerCell) return [];
  const [acrossStep, alongStep] = axis === "x" ? [1, width] : [width, 1];
  return Array.from({ length: many }, (_, piece) => {
    const from = start + Math.floor(((end - start) * piece) / many);
    const to = start + Math.floor(((end - start) * (piece + 1)) / many);
    const out = new Float32Array(count * 3);
    for (let i = 0; i < count; i++) {
      let n = 0;
      let [r, g, b] = [0, 0, 0];
      for (let k = from; k < to; k++) {
        const cell = (first + i) * acrossStep + k * alongStep;
        if (!usable[cell]) continue;
        n++;
        r += data[cell * 3]!;
        g += data[cell * 3 + 1]!;
        b += data[cell * 3 + 2]!;
      }
      out[i * 3] = n > (to - from) / 2 ? Math.log(r / n + darkest) : Number.NaN;
      out[i * 3 + 1] = Math.log(g / n + darkest);
      out[i * 3 + 2] = Math.log(b / n + darkest);
    }
    return out;
  });
};

/** Size of a change that all pieces show alike, less the spread of their mean; 0 when too few of them were usable. */
const agreed = (pieces: readonly Piece[], change: (at: (cell: number) => number) => number): number => {
  let sum = 0;
  let spread = 0;
  for (let c = 0; c < 3; c++) {
    let n = 0;
    let mean = 0;
    let square = 0;
    for (const piece of pieces) {
      const value = change((cell) => (Number.isNaN(piece[cell * 3]!) ? Number.NaN : piece[cell * 3 + c]!));
      if (Number.isNaN(value)) continue;
      n++;
      mean += value;
      square += value * value;
    }
    if (n < leastPieces) return 0;
    mean /= n;
    sum += mean * mean;
    spread += Math.max(0, square / n - mean * mean) / (n - 1);
  }
  return Math.sqrt(Math.max(0, sum - spread));
};
