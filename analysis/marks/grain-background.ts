import type { Matrix3 } from "../algebra/matrix3.ts";
import type { PartField } from "../grain/part-field.ts";

/** Three planes of a part: differences in L*, a*, b* from the grain around. */
export type LabPlanes = readonly [L: Float32Array, a: Float32Array, b: Float32Array];

/** How far one looks along the grain for what is usual there, mm each way; a mark as long as this would pass for grain. */
const reachMm = 90;

/** How far apart, mm, the usual light is worked out along the grain. */
const stepMm = 30;

/** Piece of grain whose mean counts as one value, mm. */
const pieceMm = 8;

/**
 * How each cell differs from the grain it lies in, as L*, a*, b*: light over the median light along the grain, and near the ends of the
 * part, where the shadow of a joint runs across, less what is usual across. `toLab`: change of Lab by shares of red, green, blue
 * (`labPerShare`). Unusable cells get 0.
 */
export const unlikeGrain = (field: PartField, toLab: Matrix3): LabPlanes => {
  const [r, g, b] = field.light.map((plane) => shareOverMedian(field, plane)) as [
    Float32Array,
    Float32Array,
    Float32Array,
  ];
  const lab: LabPlanes = [new Float32Array(r.length), new Float32Array(r.length), new Float32Array(r.length)];
  for (let i = 0; i < r.length; i++) {
    if (!field.usable[i]) continue;
    lab[0][i] = toLab[0] * r[i]! + toLab[1] * g[i]! + toLab[2] * b[i]!;
    lab[1][i] = toLab[3] * r[i]! + toLab[4] * g[i]! + toLab[5] * b[i]!;
    lab[2][i] = toLab[6] * r[i]! + toLab[7] * g[i]! + toLab[8] * b[i]!;
  }
  for (const plane of lab) levelEnds(field, plane);
  return lab;
};

/** Light over the running median along each row, less one. */
const shareOverMedian = ({ along, across, mmPerCell, usable }: PartField, plane: Float32Array): Float32Array => {
  const piece = Math.max(1, Math.round(pieceMm / mmPerCell));
  const pieces = Math.ceil(along / piece);
  const reach = Math.ceil(reachMm / pieceMm);
  const step = Math.max(1, Math.round(stepMm / pieceMm));
  const out = new Float32Array(plane.length);
  const means = new Float32Array(pieces);
  const window = new Float32Array(2 * reach + 1);
  const usual = new Float32Array(Math.ceil(pieces / step) + 1);
  const { before, share: between } = placesBetween(along, piece, step, usual.length);
  for (let row = 0; row < across; row++) {
    const start = row * along;
    meanPieces(plane, usable, start, along, piece, means);
    for (let k = 0; k < usual.length; k++) {
      const middle = Math.min(pieces - 1, k * step);
      let n = 0;
      for (let p = Math.max(0, middle - reach); p <= Math.min(pieces - 1, middle + reach); p++)
        if (means[p]! >= 0) window[n++] = means[p]!;
      usual[k] = middleOf(window, n);
    }
    for (let i = 0, cell = start; i < along; i++, cell++) {
      const k = before[i]!;
      const share = plane[cell]! / (usual[k]! + (usual[k + 1]! - usual[k]!) * between[i]!);
      if (usable[cell] && share < Number.POSITIVE_INFINITY) out[cell] = share - 1;
    }
  }
  return out;
};

/** Between which two of `count` values, one every `step` pieces, each cell of a row lies, and how far on from the first. */
const placesBetween = (along: number, piece: number, step: number, count: number) => {
  const before = new Int32Array(along);
  const share = new Float64Array(along);
  for (let i = 0; i < along; i++) {
    const at = Math.max(0, (i / piece - 0.5) / step);
    before[i] = Math.min(count - 2, Math.floor(at));
    share[i] = Math.min(1, at - before[i]!);
  }
  return { before, share };
};

/** Mean light of each piece of a row, -1 where nothing is usable. */
const meanPieces = (
  plane: Float32Array,
  usable: Uint8Array,
  start: number,
  along: number,
  piece: number,
  means: Float32Array,
): void => {
  for (let p = 0; p < means.length; p++) {
    let sum = 0;
    let count = 0;
    for (let i = start + p * piece; i < start + Math.min(along, (p + 1) * piece); i++)
      if (usable[i]) {
        sum += plane[i]!;
        count++;
      }
    means[p] = count > 0 ? sum / count : -1;
  }
};

/** The middle one of the first `n` values, which are sorted on the way (insertion: the fastest for some twenty values). 0 of nothing. */
const middleOf = (values: Float32Array, n: number): number => {
  for (let i = 1; i < n; i++) {
    const value = values[i]!;
    let j = i - 1;
    for (; j >= 0 && values[j]! > value; j--) values[j + 1] = values[j]!;
    values[j + 1] = value;
  }
  return n > 0 ? values[n >> 1]! : 0;
};

/** Takes the running median across off the cells within 12 mm of the ends of the part. */
const levelEnds = ({ along, across, mmPerCell }: PartField, plane: Float32Array): void => {
  const depth = Math.min(Math.round(12 / mmPerCell), along >> 1);
  const reach = Math.round(60 / mmPerCell);
  const stride = Math.max(1, Math.round(10 / mmPerCell));
  const skip = Math.max(1, Math.round(5 / mmPerCell));
  const window = new Float32Array(Math.ceil((2 * reach) / skip) + 1);
  const usual = new Float32Array(Math.ceil(across / stride) + 2);
  for (let d = 0; d < 2 * depth; d++) {
    const column = d < depth ? d : along - 1 - (d - depth);
    for (let k = 0; k < usual.length; k++) {
      let n = 0;
      for (let row = Math.max(0, k * stride - reach); row < Math.min(across, k * stride + reach); row += skip)
        window[n++] = plane[row * along + column]!;
      usual[k] = middleOf(window, n);
    }
    for (let row = 0; row < across; row++) {
      const k = Math.floor(row / stride);
      plane[row * along + column]! -= usual[k]! + (usual[k + 1]! - usual[k]!) * (row / stride - k);
    }
  }
};
