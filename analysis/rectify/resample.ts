import { decodeTable } from "../colour/encoding.ts";
import { type Homography, project } from "../homography.ts";
import { bend, type Lens } from "../lens.ts";
import type { Pixels, Point } from "../pixels.ts";

/**
 * A face, or any flat rectangle, seen straight on: linear RGB 0..1 in the photo's own primaries, interleaved row by row.
 * `usable` is 0 where a cell lies outside the photo or where any channel of any pixel under it is clipped (code >= 254).
 */
export interface FaceGrid {
  readonly data: Float32Array;
  readonly usable: Uint8Array;
  readonly width: number;
  readonly height: number;
  readonly mmPerCell: number;
}

/** What to resample: the plane's size, its way into the straightened photo (mm to px) and the photo's lens. */
export interface FaceView {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly toPhoto: Homography;
  readonly lens: Lens;
}

/** Codes from here up count as clipped: JPEG rounding blurs 255 into 254. */
const clippedCode = 254;

/**
 * Cells are worked through in tiles of so many each way: few enough that the pixels under a line of them are still in the
 * processor's nearest cache when the next line wants their neighbours, and that the taps of one cell serve for all.
 */
const tileCells = 32;

/**
 * Resamples the photo to cells of `mmPerCell`, in linear light. Where the photo is finer than the grid, a cell is the
 * mean of k x k evenly spread pixels under it (k from the finest place of the face), so grain does not alias; where it
 * is coarser, bilinear. A last cell cut by the edge is left away: width is floor(widthMm / mmPerCell). The grid is walked
 * as the photo is stored: a line of cells is a row of the face, or a column where the camera was held on its side.
 */
export const resample = (pixels: Pixels, view: FaceView, mmPerCell: number): FaceGrid => {
  const width = Math.max(1, Math.floor(view.widthMm / mmPerCell + 1e-6));
  const height = Math.max(1, Math.floor(view.heightMm / mmPerCell + 1e-6));
  const grid = { data: new Float32Array(width * height * 3), usable: new Uint8Array(width * height) };
  const linear = decodeTable();
  const marked = Float64Array.from(linear, (light, code) => (code >= clippedCode ? light + clippedMark : light));
  const taps = Math.min(8, Math.round(finestScale(view) * mmPerCell));
  const offsets = new Float64Array(2 * Math.max(1, taps) ** 2);
  const middles = new Float64Array(2 * tileCells);
  const level = Math.abs(pixels.right) < Math.abs(pixels.down);
  const [lines, length] = level ? [height, width] : [width, height];
  const [next, nextLine] = level ? [1, width] : [width, 1];
  let reach: Reach = { x: 0, y: 0 };
  for (let from = 0; from < length; from += tileCells) {
    const cells = Math.min(tileCells, length - from);
    for (let line = 0; line < lines; line++) {
      const column = level ? from : line;
      const row = level ? line : from;
      const start = line * nextLine + from * next;
      fillMiddles(middles, cells, view, mmPerCell, column, row, level);
      if (line % tileCells === 0) reach = fillOffsets(offsets, taps, view, mmPerCell, column, row);
      if (taps < 2) bilinearCells(pixels, linear, middles, cells, grid, start, next);
      else if (taps === 2) fourTapCells(pixels, marked, middles, cells, offsets, reach, grid, start, next);
      else meanCells(pixels, marked, middles, cells, offsets, reach, grid, start, next);
    }
  }
  return { ...grid, width, height, mmPerCell };
};

/** The greatest number of photo px that one mm of the plane takes up, over its four corners. */
const finestScale = ({ widthMm, heightMm, toPhoto: h }: FaceView): number => {
  const area = ([x, y]: readonly [number, number]): number => {
    const w = h[6] * x + h[7] * y + h[8];
    const det =
      h[0] * (h[4] * h[8] - h[5] * h[7]) - h[1] * (h[3] * h[8] - h[5] * h[6]) + h[2] * (h[3] * h[7] - h[4] * h[6]);
    return Math.abs(det / (w * w * w));
  };
  const corners = [
    [0, 0],
    [widthMm, 0],
    [widthMm, heightMm],
    [0, heightMm],
  ] as const;
  return Math.sqrt(Math.max(...corners.map(area)));
};

/** Photo places of the middles of cells in a line from `column` and `row` on, x and y in turn. */
const fillMiddles = (
  out: Float64Array,
  cells: number,
  { toPhoto: h, lens }: FaceView,
  mmPerCell: number,
  column: number,
  row: number,
  level: boolean,
): void => {
  const x = (column + 0.5) * mmPerCell;
  const y = (row + 0.5) * mmPerCell;
  const [cx, cy] = lens.centre;
  const k = lens.k1 / (lens.unitPx * lens.unitPx);
  let u = h[0] * x + h[1] * y + h[2];
  let v = h[3] * x + h[4] * y + h[5];
  let w = h[6] * x + h[7] * y + h[8];
  const du = (level ? h[0] : h[1]) * mmPerCell;
  const dv = (level ? h[3] : h[4]) * mmPerCell;
  const dw = (level ? h[6] : h[7]) * mmPerCell;
  for (let i = 0; i < 2 * cells; i += 2) {
    const scale = 1 / w;
    const dx = u * scale - cx;
    const dy = v * scale - cy;
    // The inverse of 1 + k r2, as a series: the fourth term is below 0.01 px for |k1| up to 0.05.
    const kr2 = k * (dx * dx + dy * dy);
    const bent = 1 - kr2 * (1 - 3 * kr2 * (1 - 4 * kr2));
    out[i] = cx + dx * bent;
    out[i + 1] = cy + dy * bent;
    u += du;
    v += dv;
    w += dw;
  }
};

/** How far a cell reaches from its middle, px of the photo. */
interface Reach {
  readonly x: number;
  readonly y: number;
}

/**
 * Where the taps of a cell lie about its middle, x and y in turn, px. Perspective moves them by less than a twentieth of a
 * px over a tile: scale changes by a tenth of a part in a thousand a mm.
 */
const fillOffsets = (
  out: Float64Array,
  taps: number,
  view: FaceView,
  mmPerCell: number,
  column: number,
  row: number,
): Reach => {
  const at = (right: number, down: number): Point =>
    bend(view.lens, project(view.toPhoto, [(column + right) * mmPerCell, (row + down) * mmPerCell]));
  const [x, y] = at(tileCells / 2, tileCells / 2);
  const [rightX, rightY] = at(tileCells / 2 + 1, tileCells / 2);
  const [downX, downY] = at(tileCells / 2, tileCells / 2 + 1);
  const [acrossX, acrossY, alongX, alongY] = [rightX - x, rightY - y, downX - x, downY - y];
  for (let m = 0, i = 0; m < taps; m++)
    for (let n = 0; n < taps; n++, i += 2) {
      const right = (n + 0.5) / taps - 0.5;
      const down = (m + 0.5) / taps - 0.5;
      out[i] = right * acrossX + down * alongX;
      out[i + 1] = right * acrossY + down * alongY;
    }
  return { x: (Math.abs(acrossX) + Math.abs(alongX)) / 2, y: (Math.abs(acrossY) + Math.abs(alongY)) / 2 };
};

/** Marks a clipped code in the sum of a cell: far above any sum of light, so both can be read back. */
const clippedMark = 4096;

/** A cell may reach past the photo by this, px: its taps lie further in, rounding of the corners does not. */
const slackPx = 0.2;

type Cells = Pick<FaceGrid, "data" | "usable">;

const meanCells = (
  { data: photo, width, height, first, right, down }: Pixels,
  linear: Float64Array,
  middles: Float64Array,
  cells: number,
  offsets: Float64Array,
  reach: Reach,
  { data, usable }: Cells,
  start: number,
  next: number,
): void => {
  const least = { x: reach.x - slackPx, y: reach.y - slackPx };
  const share = 2 / offsets.length;
  for (let i = 0, to = start; i < cells; i++, to += next) {
    const x = middles[2 * i]!;
    const y = middles[2 * i + 1]!;
    if (!(x > least.x && y > least.y && x < width - least.x && y < height - least.y)) continue;
    let r = 0;
    let g = 0;
    let b = 0;
    for (let k = 0; k < offsets.length; k += 2) {
      const at = first + ((y + offsets[k + 1]!) | 0) * down + ((x + offsets[k]!) | 0) * right;
      r += linear[photo[at]!]!;
      g += linear[photo[at + 1]!]!;
      b += linear[photo[at + 2]!]!;
    }
    if (r + g + b < clippedMark) usable[to] = 1;
    else {
      r -= clippedMark * Math.floor(r / clippedMark);
      g -= clippedMark * Math.floor(g / clippedMark);
      b -= clippedMark * Math.floor(b / clippedMark);
    }
    data[3 * to] = r * share;
    data[3 * to + 1] = g * share;
    data[3 * to + 2] = b * share;
  }
};

/** The same for four taps, the commonest number by far, written out: half as long again in a loop. */
const fourTapCells = (
  { data: photo, width, height, first, right, down }: Pixels,
  linear: Float64Array,
  middles: Float64Array,
  cells: number,
  offsets: Float64Array,
  reach: Reach,
  { data, usable }: Cells,
  start: number,
  next: number,
): void => {
  const least = { x: reach.x - slackPx, y: reach.y - slackPx };
  // One by one: taking them off together would walk an iterator, once a line.
  const ax = offsets[0]!;
  const ay = offsets[1]!;
  const bx = offsets[2]!;
  const by = offsets[3]!;
  const cx = offsets[4]!;
  const cy = offsets[5]!;
  const dx = offsets[6]!;
  const dy = offsets[7]!;
  for (let i = 0, to = start; i < cells; i++, to += next) {
    const x = middles[2 * i]!;
    const y = middles[2 * i + 1]!;
    if (!(x > least.x && y > least.y && x < width - least.x && y < height - least.y)) continue;
    const a = (first + Math.imul(y + ay, down) + Math.imul(x + ax, right)) | 0;
    const b = (first + Math.imul(y + by, down) + Math.imul(x + bx, right)) | 0;
    const c = (first + Math.imul(y + cy, down) + Math.imul(x + cx, right)) | 0;
    const d = (first + Math.imul(y + dy, down) + Math.imul(x + dx, right)) | 0;
    let red = linear[photo[a]!]! + linear[photo[b]!]! + linear[photo[c]!]! + linear[photo[d]!]!;
    let green = linear[photo[a + 1]!]! + linear[photo[b + 1]!]! + linear[photo[c + 1]!]! + linear[photo[d + 1]!]!;
    let blue = linear[photo[a + 2]!]! + linear[photo[b + 2]!]! + linear[photo[c + 2]!]! + linear[photo[d + 2]!]!;
    if (red + green + blue < clippedMark) usable[to] = 1;
    else {
      red -= clippedMark * Math.floor(red / clippedMark);
      green -= clippedMark * Math.floor(green / clippedMark);
      blue -= clippedMark * Math.floor(blue / clippedMark);
    }
    data[3 * to] = red / 4;
    data[3 * to + 1] = green / 4;
    data[3 * to + 2] = blue / 4;
  }
};

const bilinearCells = (
  { data: photo, width, height, first, right, down }: Pixels,
  linear: Float64Array,
  middles: Float64Array,
  cells: number,
  { data, usable }: Cells,
  start: number,
  next: number,
): void => {
  for (let i = 0, to = start; i < cells; i++, to += next) {
    const x = middles[2 * i]! - 0.5;
    const y = middles[2 * i + 1]! - 0.5;
    const px = Math.floor(x);
    const py = Math.floor(y);
    if (px < 0 || py < 0 || px > width - 2 || py > height - 2) continue;
    const fx = x - px;
    const fy = y - py;
    const at = (first + Math.imul(py, down) + Math.imul(px, right)) | 0;
    let clipped = false;
    for (let c = 0; c < 3; c++) {
      const p = photo[at + c]!;
      const q = photo[at + right + c]!;
      const s = photo[at + down + c]!;
      const t = photo[at + down + right + c]!;
      clipped ||= p >= clippedCode || q >= clippedCode || s >= clippedCode || t >= clippedCode;
      const top = linear[p]! * (1 - fx) + linear[q]! * fx;
      const bottom = linear[s]! * (1 - fx) + linear[t]! * fx;
      data[to * 3 + c] = top * (1 - fy) + bottom * fy;
    }
    usable[to] = clipped ? 0 : 1;
  }
};
