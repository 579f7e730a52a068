import type { WorkingPicture } from "./working-picture.ts";

/** Which way a line runs: "upright" lines are x = offset + slope * y, "level" ones y = offset + slope * x. */
export type Run = "upright" | "level";

/** Rows that are taken together, px: quiets noise and is short against any leaf edge. */
export const bandPx = 3;

/** Change of colour across an edge that counts in full, codes: twice the step that grain commonly makes at this scale. */
const fullStep = 14;

/** Where colour changes, band by band along a run. */
export interface EdgePoints {
  readonly at: Float32Array;
  readonly weight: Float32Array;
  /** Index of the first point of each band; one more at the end. */
  readonly first: Uint32Array;
  readonly bands: number;
  readonly length: number;
}

/** Where colour changes most along each band, at most one place in 3 px. */
export const edgePoints = ({ red, green, blue, width, height }: WorkingPicture, run: Run): EdgePoints => {
  const upright = run === "upright";
  const across = upright ? width : height;
  const length = upright ? height : width;
  const step = upright ? 1 : width;
  const next = upright ? width : 1;
  const bands = Math.floor(length / bandPx);
  const at: number[] = [];
  const weight: number[] = [];
  const first = new Uint32Array(bands + 1);
  const r = new Float32Array(across);
  const g = new Float32Array(across);
  const b = new Float32Array(across);
  const m = new Float32Array(across);
  const scale = 1 / (2 * bandPx);
  for (let band = 0; band < bands; band++) {
    first[band] = at.length;
    for (let i = 0; i < across; i++) {
      const p = band * bandPx * next + i * step;
      r[i] = (red[p]! + red[p + next]! + red[p + 2 * next]!) * scale;
      g[i] = (green[p]! + green[p + next]! + green[p + 2 * next]!) * scale;
      b[i] = (blue[p]! + blue[p + next]! + blue[p + 2 * next]!) * scale;
    }
    for (let i = 2; i < across - 1; i++) {
      const dr = r[i]! + r[i + 1]! - r[i - 1]! - r[i - 2]!;
      const dg = g[i]! + g[i + 1]! - g[i - 1]! - g[i - 2]!;
      const db = b[i]! + b[i + 1]! - b[i - 1]! - b[i - 2]!;
      m[i] = Math.sqrt((dr * dr + 2 * dg * dg + db * db) / 4);
    }
    for (let i = 3; i < across - 2; i++) {
      const here = m[i]!;
      if (here < fullStep / 4 || here < m[i - 1]! || here <= m[i + 1]!) continue;
      const before = m[i - 1]!;
      const after = m[i + 1]!;
      at.push(i + (after - before) / (2 * (2 * here - before - after) + 1e-6));
      weight.push(Math.min(1, here / fullStep));
    }
  }
  first[bands] = at.length;
  return { at: Float32Array.from(at), weight: Float32Array.from(weight), first, bands, length };
};

/** Index of the first of the rising values that is at least `value`. */
export const firstFrom = (values: Float32Array, from: number, end: number, value: number): number => {
  let low = from;
  let high = end;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (values[middle]! < value) low = middle + 1;
    else high = middle;
  }
  return low;
};
