import { type Lab, lab65OfRgb, type Rgb, rgbOfLab65 } from "./colour.ts";
import type { Mark } from "./demo-leaves.ts";
import { meanOver, type Raster } from "./raster.ts";
import { noise } from "./seeded.ts";

/** New colour of a pixel: `u` and `v` run from -1 to 1 over the box of the mark, mm are those of the face. */
type Brush = (colour: Rgb, u: number, v: number, xMm: number, yMm: number) => Rgb;

const scaled = (colour: Rgb, by: number): Rgb => [colour[0] * by, colour[1] * by, colour[2] * by];
const blend = (one: Rgb, other: Rgb, share: number): Rgb => [
  one[0] + share * (other[0] - one[0]),
  one[1] + share * (other[1] - one[1]),
  one[2] + share * (other[2] - one[2]),
];
const soft = (edge: number, from: number, to: number): number => {
  const t = Math.min(1, Math.max(0, (edge - from) / (to - from)));
  return t * t * (3 - 2 * t);
};

/** A hollow with the finish unbroken: dark under its upper rim, bright on its lower one. */
const dent: Brush = (colour, u, v) => {
  const r = Math.hypot(u, v);
  const bowl = r < 1 ? Math.sin(Math.PI * r) : 0;
  return scaled(colour, 1 + 0.34 * bowl * ((0.5 * u + v) / (r + 1e-6)) - 0.05 * soft(1 - r, 0, 0.6));
};

/** The veneer rubbed away: a pale patch without grain, its edge worn. `surround` is the mean colour about it. */
const sandThrough = (surround: Rgb): Brush => {
  const [L, a, b] = lab65OfRgb(surround);
  const pale: Lab = [L + 5.1, a - 0.4, b + 2.2];
  const core = rgbOfLab65(pale);
  return (colour, u, v, x, y) => {
    const ragged = Math.hypot(u, v) + 0.13 * noise(x / 3.2, y / 9, 71) + 0.05 * noise(x / 0.9, y / 3, 72);
    return blend(colour, blend(core, scaled(colour, core[1] / surround[1]), 0.2), soft(1 - ragged, 0, 0.16));
  };
};

/** A grey-green streak along the grain, pointed at both ends: natural. */
const mineralStreak: Brush = (colour, u, v, x, y) => {
  const wide = Math.sqrt(Math.max(0, 1 - v * v)) * (0.85 + 0.2 * noise(0.5, y / 14, 81));
  const cover = soft(wide - Math.abs(u + 0.15 * noise(0.5, y / 25, 82)), 0, 0.3);
  return blend(
    colour,
    [colour[0] * 0.56, colour[1] * 0.62, colour[2] * 0.64],
    cover * (0.85 + 0.15 * noise(x, y / 4, 83)),
  );
};

/** Fibres broken at the bottom right corner: pale torn strands with dark splits between them, pushed in towards the corner. */
const crushedCorner: Brush = (colour, u, v, x, y) => {
  const reach = (1 - u) / 2 + (1 - v) / 2 + 0.14 * noise(x / 5, y / 7, 91) + 0.09 * noise(x / 1.1, y / 6, 92);
  const within = soft(1 + u, 0, 0.12) * soft(1 + v, 0, 0.2);
  const hurt = soft(1 - reach, 0, 0.12) * within;
  const sway = x + 1.5 * noise(x / 8, y / 7, 95);
  const strand = noise(sway / 0.9, y / 13, 93) + 0.5 * noise(sway / 2.6, y / 9, 94);
  const split = 1 - 0.75 * soft(-strand, 0.35, 0.7);
  const torn: Rgb = [0.34, 0.24, 0.145];
  const pushed = 1 - 0.6 * soft(0.75 - reach, 0, 0.6) * (0.7 + 0.3 * noise(x / 6, y / 5, 96));
  const bare = blend(colour, torn, 0.35 + 0.4 * soft(strand, -0.3, 0.7));
  const rim = 1 - 0.4 * within * soft(0.1 - Math.abs(reach - 1), 0, 0.1);
  return blend(scaled(colour, rim), scaled(bare, split * pushed), hurt);
};

/** A dark gap the whole width of the box, closing towards its ends. */
const openJoint: Brush = (colour, u, v) => {
  const open = Math.min(1, (1 - Math.abs(v)) * 6);
  return Math.abs(u) < open ? scaled(colour, 0.1) : colour;
};

/** Paints a mark over a face; each pixel is the mean of nine points, so that thin marks keep their width. */
export const paintMark = (raster: Raster, { kind, boxMm }: Mark): void => {
  const [x, y, w, h] = boxMm;
  const brushes: Record<Mark["kind"], () => Brush> = {
    dent: () => dent,
    "sand-through": () => sandThrough(meanOver(raster, [x - w, y - h / 2, 3 * w, 2 * h])),
    "mineral streak": () => mineralStreak,
    "crushed corner": () => crushedCorner,
    "open joint": () => openJoint,
  };
  const brush = brushes[kind]();
  const s = raster.pxPerMm;
  const left = Math.max(0, Math.floor((x - raster.windowMm[0]) * s));
  const top = Math.max(0, Math.floor((y - raster.windowMm[1]) * s));
  const right = Math.min(raster.width, Math.ceil((x + w - raster.windowMm[0]) * s));
  const bottom = Math.min(raster.height, Math.ceil((y + h - raster.windowMm[1]) * s));
  for (let py = top; py < bottom; py++)
    for (let px = left; px < right; px++) {
      const i = (py * raster.width + px) * 3;
      const was: Rgb = [raster.data[i]!, raster.data[i + 1]!, raster.data[i + 2]!];
      const sum = [0, 0, 0];
      for (let n = 0; n < 9; n++) {
        const xMm = raster.windowMm[0] + (px + ((n % 3) + 0.5) / 3) / s;
        const yMm = raster.windowMm[1] + (py + (Math.floor(n / 3) + 0.5) / 3) / s;
        const u = (2 * (xMm - x)) / w - 1;
        const v = (2 * (yMm - y)) / h - 1;
        const colour = Math.abs(u) <= 1 && Math.abs(v) <= 1 ? brush(was, u, v, xMm, yMm) : was;
        for (let k = 0; k < 3; k++) sum[k]! += colour[k]! / 9;
      }
      raster.data.set(sum, i);
    }
};
