import { decodeTable } from "../colour/encoding.ts";
import type { Homography } from "../homography.ts";
import type { Lens } from "../lens.ts";
import type { Pixels } from "../pixels.ts";

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
 * Resamples the photo to cells of `mmPerCell`, in linear light. Where the photo is finer than the grid, a cell is the
 * mean of k x k evenly spread pixels under it (k from the finest place of the face), so grain does not alias; where it
 * is coarser, bilinear. A last cell cut by the edge is left away: width is floor(widthMm / mmPerCell).
 */
export const resample = (pixels: Pixels, view: FaceView, mmPerCell: number): FaceGrid => {
  const width = Math.max(1, Math.floor(view.widthMm / mmPerCell + 1e-6));
  const height = Math.max(1, Math.floor(view.heightMm / mmPerCell + 1e-6));
  const data = new Float32Array(width * height * 3);
  const usable = new Uint8Array(width * height);
  const linear = decodeTable();
  const marked = Float64Array.from(linear, (light, code) => (code >= clippedCode ? light + clippedMark : light));
  const taps = Math.min(8, Math.round(finestScale(view) * mmPerCell));
  let above = cornerRow(view, mmPerCell, width, 0);
  let below = new Float64Array(above.length);
  for (let row = 0; row < height; row++) {
    fillCornerRow(below, view, mmPerCell, row + 1);
    if (taps < 2) bilinearRow(pixels, linear, above, below, data, usable, row * width, width);
    else meanRow(pixels, marked, above, below, data, usable, row * width, width, taps);
    [above, below] = [below, above];
  }
  return { data, usable, width, height, mmPerCell };
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

const cornerRow = (view: FaceView, mmPerCell: number, width: number, row: number): Float64Array<ArrayBuffer> => {
  const out = new Float64Array((width + 1) * 2);
  fillCornerRow(out, view, mmPerCell, row);
  return out;
};

/** Photo places of the cell corners along the top of a row, x and y in turn. */
const fillCornerRow = (out: Float64Array, { toPhoto: h, lens }: FaceView, mmPerCell: number, row: number): void => {
  const y = row * mmPerCell;
  const [cx, cy] = lens.centre;
  const k = lens.k1 / (lens.unitPx * lens.unitPx);
  let u = h[1] * y + h[2];
  let v = h[4] * y + h[5];
  let w = h[7] * y + h[8];
  const du = h[0] * mmPerCell;
  const dv = h[3] * mmPerCell;
  const dw = h[6] * mmPerCell;
  for (let i = 0; i < out.length; i += 2) {
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

/** Marks a clipped code in the sum of a cell: far above any sum of light, so both can be read back. */
const clippedMark = 4096;

/** A cell may reach past the photo by this, px: its taps lie further in, rounding of the corners does not. */
const slackPx = 0.2;

const meanRow = (
  { data: photo, width: photoWidth, height: photoHeight, first, right, down }: Pixels,
  linear: Float64Array,
  above: Float64Array,
  below: Float64Array,
  out: Float32Array,
  usable: Uint8Array,
  start: number,
  width: number,
  taps: number,
): void => {
  const share = 1 / (taps * taps);
  const step = 1 / taps;
  const rightEnd = photoWidth + slackPx;
  const bottomEnd = photoHeight + slackPx;
  let to = start * 3;
  for (let i = 0; i < width; i++, to += 3) {
    const a = i * 2;
    const x0 = above[a]!;
    const y0 = above[a + 1]!;
    const x3 = below[a + 2]!;
    const y3 = below[a + 3]!;
    if (!(Math.min(x0, y0, x3, y3) > -slackPx && Math.max(x0, x3) < rightEnd && Math.max(y0, y3) < bottomEnd)) continue;
    const acrossX = (above[a + 2]! - x0) * step;
    const acrossY = (above[a + 3]! - y0) * step;
    const downX = (below[a]! - x0) * step;
    const downY = (below[a + 1]! - y0) * step;
    let r = 0;
    let g = 0;
    let b = 0;
    let rowX = x0 + 0.5 * (acrossX + downX);
    let rowY = y0 + 0.5 * (acrossY + downY);
    for (let m = 0; m < taps; m++) {
      let x = rowX;
      let y = rowY;
      for (let n = 0; n < taps; n++) {
        const at = first + (y | 0) * down + (x | 0) * right;
        r += linear[photo[at]!]!;
        g += linear[photo[at + 1]!]!;
        b += linear[photo[at + 2]!]!;
        x += acrossX;
        y += acrossY;
      }
      rowX += downX;
      rowY += downY;
    }
    if (r < clippedMark && g < clippedMark && b < clippedMark) usable[start + i] = 1;
    else {
      r %= clippedMark;
      g %= clippedMark;
      b %= clippedMark;
    }
    out[to] = r * share;
    out[to + 1] = g * share;
    out[to + 2] = b * share;
  }
};

const bilinearRow = (
  { data: photo, width: photoWidth, height: photoHeight, first, right, down }: Pixels,
  linear: Float64Array,
  above: Float64Array,
  below: Float64Array,
  out: Float32Array,
  usable: Uint8Array,
  start: number,
  width: number,
): void => {
  for (let i = 0; i < width; i++) {
    const a = i * 2;
    const x = (above[a]! + below[a + 2]!) / 2 - 0.5;
    const y = (above[a + 1]! + below[a + 3]!) / 2 - 0.5;
    const px = Math.floor(x);
    const py = Math.floor(y);
    if (px < 0 || py < 0 || px > photoWidth - 2 || py > photoHeight - 2) continue;
    const fx = x - px;
    const fy = y - py;
    const at = first + py * down + px * right;
    const under = at + down;
    const to = start + i;
    let worst = 0;
    for (let c = 0; c < 3; c++) {
      const p = photo[at + c]!;
      const q = photo[at + right + c]!;
      const s = photo[under + c]!;
      const t = photo[under + right + c]!;
      worst = Math.max(worst, p, q, s, t);
      const top = linear[p]! * (1 - fx) + linear[q]! * fx;
      const bottom = linear[s]! * (1 - fx) + linear[t]! * fx;
      out[to * 3 + c] = top * (1 - fy) + bottom * fy;
    }
    usable[to] = worst >= clippedCode ? 0 : 1;
  }
};
