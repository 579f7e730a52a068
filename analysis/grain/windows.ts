import { median } from "../algebra/robust.ts";
import type { PartField } from "./part-field.ts";
import { smooth } from "./smooth.ts";

/** A square of 40 mm: structure tensor (x along the rows) of the detail smoothed over 8 mm, its squares, how many cells of it are seen. */
export interface Window {
  /** Where along the part, 0..1. */
  readonly place: number;
  readonly xx: number;
  readonly xy: number;
  readonly yy: number;
  readonly squares: number;
  readonly seen: number;
}

/** The windows of a part in which something is seen. */
export const windowsOf = ({ along, across, mmPerCell, usable }: PartField, detail: Float32Array): Window[] => {
  const plane = smooth({ along, across }, detail, Math.max(1, Math.round(8 / mmPerCell)));
  const side = Math.round(40 / mmPerCell);
  const columns = Math.max(1, Math.floor(along / side));
  const rows = Math.max(1, Math.floor(across / side));
  const sums = Array.from({ length: columns * rows }, () => ({ xx: 0, xy: 0, yy: 0, squares: 0, seen: 0 }));
  for (let row = 1; row < across - 1; row++)
    for (let i = 1; i < along - 1; i++) {
      const cell = row * along + i;
      if (!(usable[cell] && usable[cell - 1] && usable[cell + 1] && usable[cell - along] && usable[cell + along]))
        continue;
      const gx = plane[cell + 1]! - plane[cell - 1]!;
      const gy = plane[cell + along]! - plane[cell - along]!;
      const sum =
        sums[Math.min(rows - 1, Math.floor(row / side)) * columns + Math.min(columns - 1, Math.floor(i / side))]!;
      sum.xx += gx * gx;
      sum.xy += gx * gy;
      sum.yy += gy * gy;
      sum.squares += detail[cell]! * detail[cell]!;
      sum.seen++;
    }
  return sums
    .map((sum, window) => ({ ...sum, place: ((window % columns) + 0.5) / columns }))
    .filter(({ seen }) => seen > 0);
};

/** A window counts for no more than this many usual ones: the rim of a label, a handle or a knot is no figure. */
export const mostAsStrong = 3;

/** The windows, those much stronger than the usual one made weaker. */
export const quieted = (windows: readonly Window[]): Window[] => {
  const strength = median(windows.map(({ xx, yy, seen }) => (xx + yy) / seen));
  const square = median(windows.map(({ squares, seen }) => squares / seen));
  return windows.map(({ place, xx, xy, yy, squares, seen }) => {
    const share = Math.min(1, (mostAsStrong * strength * seen) / Math.max(xx + yy, 1e-9));
    const most = mostAsStrong * square * seen;
    return { place, xx: share * xx, xy: share * xy, yy: share * yy, squares: Math.min(squares, most), seen };
  });
};

/** Angle of least change from the rows, degrees in -90..90, and how strongly the lines run one way (0..trace). */
export const axisOf = (windows: readonly Window[]): { readonly angle: number; readonly strength: number } => {
  const sum = (of: (window: Window) => number) => windows.reduce((total, window) => total + of(window), 0);
  const along = sum(({ xx, yy }) => yy - xx);
  const slant = 2 * sum(({ xy }) => xy);
  return { angle: (Math.atan2(-slant, along) / 2) * (180 / Math.PI), strength: Math.hypot(along, slant) };
};

/** Angle between two axes, degrees in -90..90. */
export const apart = (one: number, other: number): number => ((one - other + 270) % 180) - 90;

/** Spread of the windows' axes about an angle, degrees: 1.4826 times the middle distance, each counted by its strength. */
export const spreadAround = (angle: number, windows: readonly Window[]): number => {
  const axes = windows
    .map((window) => axisOf([window]))
    .map((axis) => ({ off: Math.abs(apart(axis.angle, angle)), strength: axis.strength }))
    .toSorted((one, other) => one.off - other.off);
  let left = axes.reduce((sum, { strength }) => sum + strength, 0) / 2;
  const middle = axes.find(({ strength }) => {
    left -= strength;
    return left <= 0;
  });
  return 1.4826 * (middle?.off ?? 0);
};

/** Standard deviation of the detail over the windows, in its own unit. */
export const contrastOf = (windows: readonly Window[]): number =>
  Math.sqrt(windows.reduce((sum, { squares }) => sum + squares, 0) / windows.reduce((sum, { seen }) => sum + seen, 0));
