import type { RectMm } from "../leaf-parts.ts";
import type { FaceGrid } from "../rectify/resample.ts";

/** The same face with what lies on it (label, card) no longer usable; boxes in mm on the face. */
export const withoutCovers = (grid: FaceGrid, covers: readonly RectMm[]): FaceGrid => {
  const { width, height, mmPerCell } = grid;
  const usable = grid.usable.slice();
  for (const [x, y, w, h] of covers) {
    const from = Math.max(0, Math.floor(x / mmPerCell));
    const to = Math.min(width, Math.ceil((x + w) / mmPerCell));
    for (let row = Math.max(0, Math.floor(y / mmPerCell)); row < Math.min(height, (y + h) / mmPerCell); row++)
      usable.fill(0, row * width + from, row * width + to);
  }
  return { ...grid, usable };
};
