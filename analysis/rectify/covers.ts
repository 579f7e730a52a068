import type { Point } from "../pixels.ts";
import type { FaceGrid } from "./resample.ts";

/** A piece of the face that is not wood: a label, a card held on it, a mark. Corners in mm on the face. */
export type Cover = readonly Point[];

/** The same face with what lies on it, and a margin round it, no longer usable. */
export const withoutCovers = (grid: FaceGrid, covers: readonly Cover[], marginMm: number): FaceGrid => {
  const { width, height, mmPerCell } = grid;
  const usable = grid.usable.slice();
  for (const cover of covers) {
    const wide = widen(cover, marginMm);
    const xs = wide.map(([x]) => x / mmPerCell);
    const ys = wide.map(([, y]) => y / mmPerCell);
    for (let row = Math.max(0, Math.floor(Math.min(...ys))); row < Math.min(height, Math.max(...ys)); row++)
      for (let column = Math.max(0, Math.floor(Math.min(...xs))); column < Math.min(width, Math.max(...xs)); column++)
        if (inside(wide, [(column + 0.5) * mmPerCell, (row + 0.5) * mmPerCell])) usable[row * width + column] = 0;
  }
  return { ...grid, usable };
};

/** Corners moved away from their centre by the margin. */
const widen = (corners: Cover, marginMm: number): Point[] => {
  const cx = corners.reduce((sum, [x]) => sum + x, 0) / corners.length;
  const cy = corners.reduce((sum, [, y]) => sum + y, 0) / corners.length;
  return corners.map(([x, y]) => {
    const scale = 1 + (marginMm * Math.SQRT2) / (Math.hypot(x - cx, y - cy) || 1);
    return [cx + (x - cx) * scale, cy + (y - cy) * scale];
  });
};

const inside = (corners: readonly Point[], [x, y]: Point): boolean => {
  let odd = false;
  corners.forEach(([x1, y1], i) => {
    const [x2, y2] = corners[(i + 1) % corners.length]!;
    if (y1 > y !== y2 > y && x < x1 + ((y - y1) * (x2 - x1)) / (y2 - y1)) odd = !odd;
  });
  return odd;
};
