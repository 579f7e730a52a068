import type { Point } from "../pixels.ts";
import type { WorkingPicture } from "./working-picture.ts";

/** A stretch of the working picture where many hues lie close together: middle, direction and length of its longer axis, px. */
export interface ManyHues {
  readonly middle: Point;
  readonly angle: number;
  readonly longPx: number;
}

const cellPx = 6;
const sectors = 8;

/** Every second pixel is enough to count hues by. */
const stepPx = 2;

/** Cells on each side of the one looked at: about a third of a chart 50 px wide, the smallest that is of use. */
const around = 2;

/** A sector counts in full from this share of the surround on. */
const fullShare = 0.05;

/** Sectors that must be there, out of eight: clutter has one or two, wood and wall together no more. */
const leastHues = 3.5;

/** Distance of a pixel's chroma from the picture's own, codes, to count as coloured. */
const leastChroma = 22;

/**
 * Where a chart of many colours may lie, the likeliest first. Pixels are sorted by hue after the picture's median colour
 * difference is taken off, so that a warm or cold light does not colour the wall.
 */
export const manyHues = ({ red, green, blue, width, height }: WorkingPicture): ManyHues[] => {
  const columns = Math.floor(width / cellPx);
  const rows = Math.floor(height / cellPx);
  const middleU = medianOf(red, green);
  const middleV = medianOf(green, blue);
  const counts = new Uint16Array(columns * rows * sectors);
  for (let y = 0; y < rows * cellPx; y += stepPx) {
    for (let x = 0; x < columns * cellPx; x += stepPx) {
      const i = y * width + x;
      const u = red[i]! - green[i]! - middleU;
      const v = green[i]! - blue[i]! - middleV;
      if (u * u + v * v < leastChroma * leastChroma) continue;
      const sector = Math.floor(((Math.atan2(v, u) / Math.PI + 1) / 2) * sectors) % sectors;
      counts[(Math.floor(y / cellPx) * columns + Math.floor(x / cellPx)) * sectors + sector]!++;
    }
  }
  const hues = hueCounts(counts, columns, rows);
  return regions(hues, columns).slice(0, 3);
};

const medianOf = (one: Float32Array, other: Float32Array): number => {
  const sample: number[] = [];
  for (let i = 0; i < one.length; i += 97) sample.push(one[i]! - other[i]!);
  sample.sort((a, b) => a - b);
  return sample[sample.length >> 1] ?? 0;
};

/** How many hues lie about each cell. */
const hueCounts = (counts: Uint16Array, columns: number, rows: number): Float32Array => {
  const hues = new Float32Array(columns * rows);
  const full = fullShare * (cellPx / stepPx) ** 2 * (2 * around + 1) ** 2;
  const sums = new Float64Array(sectors);
  for (let row = around; row < rows - around; row++) {
    for (let column = around; column < columns - around; column++) {
      sums.fill(0);
      for (let y = row - around; y <= row + around; y++) {
        for (
          let i = (y * columns + column - around) * sectors;
          i < (y * columns + column + around + 1) * sectors;
          i++
        ) {
          sums[i % sectors]! += counts[i]!;
        }
      }
      let n = 0;
      for (let s = 0; s < sectors; s++) n += Math.min(1, sums[s]! / full);
      hues[row * columns + column] = n;
    }
  }
  return hues;
};

/** Connected cells with many hues, largest first. */
const regions = (hues: Float32Array, columns: number): ManyHues[] => {
  const seen = new Uint8Array(hues.length);
  const found: { region: ManyHues; cells: number }[] = [];
  for (let start = 0; start < hues.length; start++) {
    if (seen[start] || hues[start]! < leastHues) continue;
    const cells = [start];
    seen[start] = 1;
    for (let k = 0; k < cells.length; k++) {
      const cell = cells[k]!;
      const column = cell % columns;
      for (const next of [
        cell - columns,
        cell + columns,
        column > 0 ? cell - 1 : -1,
        column < columns - 1 ? cell + 1 : -1,
      ]) {
        if (next < 0 || next >= hues.length || seen[next] || hues[next]! < leastHues) continue;
        seen[next] = 1;
        cells.push(next);
      }
    }
    if (cells.length >= 6) found.push({ region: outline(cells, columns), cells: cells.length });
  }
  return found.sort((a, b) => b.cells - a.cells).map(({ region }) => region);
};

/** Middle, longer axis and its length as of an evenly filled rectangle. */
const outline = (cells: readonly number[], columns: number): ManyHues => {
  const n = cells.length;
  const xs = cells.map((cell) => ((cell % columns) + 0.5) * cellPx);
  const ys = cells.map((cell) => (Math.floor(cell / columns) + 0.5) * cellPx);
  const cx = xs.reduce((sum, x) => sum + x, 0) / n;
  const cy = ys.reduce((sum, y) => sum + y, 0) / n;
  let xx = 0;
  let xy = 0;
  let yy = 0;
  for (let i = 0; i < n; i++) {
    xx += (xs[i]! - cx) ** 2 / n;
    xy += ((xs[i]! - cx) * (ys[i]! - cy)) / n;
    yy += (ys[i]! - cy) ** 2 / n;
  }
  const angle = 0.5 * Math.atan2(2 * xy, xx - yy);
  const variance = (xx + yy) / 2 + Math.hypot((xx - yy) / 2, xy);
  return { middle: [cx, cy], angle, longPx: Math.sqrt(12 * variance) + cellPx };
};
