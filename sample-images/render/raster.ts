import type { Rgb } from "./colour.ts";

/** Left, top, width, height in mm. */
export type RectMm = readonly [x: number, y: number, width: number, height: number];

/** A flat picture in linear light, three channels interleaved, that covers `windowMm` of a surface. */
export interface Raster {
  readonly data: Float32Array;
  readonly width: number;
  readonly height: number;
  readonly pxPerMm: number;
  readonly windowMm: RectMm;
}

/** An empty raster, painted with one colour. */
export const blankRaster = (windowMm: RectMm, pxPerMm: number, colour: Rgb): Raster => {
  const width = Math.round(windowMm[2] * pxPerMm);
  const height = Math.round(windowMm[3] * pxPerMm);
  const data = new Float32Array(width * height * 3);
  for (let i = 0; i < data.length; i++) data[i] = colour[i % 3]!;
  return { data, width, height, pxPerMm, windowMm };
};

/** Paints a rectangle; edges that fall inside a pixel are blended by the share of it they cover. */
export const fillRect = (raster: Raster, rectMm: RectMm, colour: Rgb): void => {
  const s = raster.pxPerMm;
  const left = (rectMm[0] - raster.windowMm[0]) * s;
  const top = (rectMm[1] - raster.windowMm[1]) * s;
  const right = left + rectMm[2] * s;
  const bottom = top + rectMm[3] * s;
  for (let y = Math.max(0, Math.floor(top)); y < Math.min(raster.height, Math.ceil(bottom)); y++) {
    const tall = Math.min(y + 1, bottom) - Math.max(y, top);
    for (let x = Math.max(0, Math.floor(left)); x < Math.min(raster.width, Math.ceil(right)); x++) {
      const cover = tall * (Math.min(x + 1, right) - Math.max(x, left));
      const i = (y * raster.width + x) * 3;
      for (let k = 0; k < 3; k++) raster.data[i + k]! += cover * (colour[k]! - raster.data[i + k]!);
    }
  }
};

/** Paints the outline of a rectangle, `lineMm` wide, inside its edges. */
export const strokeRect = (raster: Raster, [x, y, w, h]: RectMm, lineMm: number, colour: Rgb): void => {
  fillRect(raster, [x, y, w, lineMm], colour);
  fillRect(raster, [x, y + h - lineMm, w, lineMm], colour);
  fillRect(raster, [x, y + lineMm, lineMm, h - 2 * lineMm], colour);
  fillRect(raster, [x + w - lineMm, y + lineMm, lineMm, h - 2 * lineMm], colour);
};

/** Colour at a place in mm, blended between the four nearest pixels; false outside the window. */
export const sampleRaster = (raster: Raster, xMm: number, yMm: number, out: Float64Array): boolean => {
  const { data, width, height, pxPerMm, windowMm } = raster;
  const x = (xMm - windowMm[0]) * pxPerMm;
  const y = (yMm - windowMm[1]) * pxPerMm;
  if (x < 0 || y < 0 || x > width || y > height) return false;
  const px = Math.min(Math.max(x - 0.5, 0), width - 1.001);
  const py = Math.min(Math.max(y - 0.5, 0), height - 1.001);
  const x0 = px | 0;
  const y0 = py | 0;
  const fx = px - x0;
  const fy = py - y0;
  const i = (y0 * width + x0) * 3;
  const j = i + width * 3;
  for (let k = 0; k < 3; k++) {
    const upper = data[i + k]! + fx * (data[i + 3 + k]! - data[i + k]!);
    const lower = data[j + k]! + fx * (data[j + 3 + k]! - data[j + k]!);
    out[k] = upper + fy * (lower - upper);
  }
  return true;
};

/** Mean of linear light over a rectangle in mm. */
export const meanOver = (raster: Raster, rectMm: RectMm): Rgb => {
  const s = raster.pxPerMm;
  const x0 = Math.max(0, Math.round((rectMm[0] - raster.windowMm[0]) * s));
  const y0 = Math.max(0, Math.round((rectMm[1] - raster.windowMm[1]) * s));
  const x1 = Math.min(raster.width, Math.round((rectMm[0] + rectMm[2] - raster.windowMm[0]) * s));
  const y1 = Math.min(raster.height, Math.round((rectMm[1] + rectMm[3] - raster.windowMm[1]) * s));
  let r = 0;
  let g = 0;
  let b = 0;
  for (let y = y0; y < y1; y++)
    for (let x = x0; x < x1; x++) {
      const i = (y * raster.width + x) * 3;
      r += raster.data[i]!;
      g += raster.data[i + 1]!;
      b += raster.data[i + 2]!;
    }
  const count = (x1 - x0) * (y1 - y0);
  return [r / count, g / count, b / count];
};
