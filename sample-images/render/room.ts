import { type Lab, type Rgb, rgbOfLab65 } from "./colour.ts";
import { noise } from "./seeded.ts";
import type { Surface } from "./surface.ts";

/** How one place on the site looks. */
export interface Room {
  readonly wall: Lab;
  readonly floor: Lab;
  /** How blotchy the plaster is: 0 painted, 1 bare and drying. */
  readonly bare: number;
  readonly seed: number;
}

/** Something that keeps light from the wall and floor: its front from `left` to `right`, `top` to the floor, `gapMm` off the wall at its foot. */
export interface Blocker {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly gapMm: number;
}

const step = (v: number, blur: number): number => 1 / (1 + Math.exp(-v / blur));

/** Share of light that a blocker leaves on the wall: the shadow falls down and to the right, softer where the gap is wide. */
const wallShade = ({ left, right, top, gapMm }: Blocker, x: number, y: number): number => {
  const gap = 44 + gapMm * Math.min(1, Math.max(0, (y - top) / -top));
  const blur = 7 + gap * 0.22;
  const near = step(x - left - 0.1 * gap, blur) * step(right + 0.5 * gap - x, blur) * step(y - top - 0.15 * gap, blur);
  const wide = step(x - left + 40, 75) * step(right + 110 - x, 75) * step(y - top + 30, 75);
  return (1 - 0.42 * near) * (1 - 0.12 * wide);
};

/** The same on the floor, z being negative away from the wall: darkest under the leaf. */
const floorShade = ({ left, right, gapMm }: Blocker, x: number, z: number): number => {
  const across = step(x - left, 24) * step(right + 45 - x, 38);
  return 1 - across * (0.62 * step(z + gapMm + 70, 26) + 0.12 * step(z + gapMm + 220, 80));
};

const wallPaint = (room: Room, blockers: readonly Blocker[], widthMm: number, heightMm: number): Surface["paint"] => {
  const base = rgbOfLab65(room.wall);
  const damp: Rgb = [0.9, 0.87, 0.84];
  const { seed, bare } = room;
  return (u, v, out) => {
    const x = u - widthMm / 2;
    const y = v - heightMm;
    const cloud = noise(x / 900, y / 700, seed) + 0.5 * noise(x / 310, y / 240, seed + 1);
    const stroke = noise(x / 240 + y / 900, y / 46 - x / 700, seed + 2) * noise(x / 500, y / 400, seed + 3);
    const pit = noise(x / 7, y / 7, seed + 4) > 0.93 ? 0.9 : 1;
    let level =
      (1 + (0.012 + 0.03 * bare) * cloud + (0.006 + 0.022 * bare) * stroke + 0.006 * noise(x / 3, y / 3, seed + 5)) *
      pit;
    for (const blocker of blockers) level *= wallShade(blocker, x, y);
    level *= 1 - 0.2 * Math.exp(y / 55) - 0.06 * Math.exp(y / 300);
    const wet = bare * Math.min(1, Math.max(0, 1.6 * noise(x / 1100, y / 800, seed + 6)));
    for (let k = 0; k < 3; k++) out[k] = base[k]! * level * (1 - wet * (1 - damp[k]!));
    return true;
  };
};

const floorPaint = (room: Room, blockers: readonly Blocker[], widthMm: number): Surface["paint"] => {
  const base = rgbOfLab65(room.floor);
  const { seed } = room;
  return (u, v, out) => {
    const x = u - widthMm / 2;
    const z = -v;
    const cloud =
      noise(x / 700, z / 420, seed + 20) +
      0.6 * noise(x / 160, z / 130, seed + 21) +
      0.4 * noise(x / 38, z / 38, seed + 22);
    const grit = noise(x / 5, z / 5, seed + 23);
    const dust = Math.max(0, noise(x / 260, z / 90, seed + 24)) * Math.exp(-v / 420);
    let level = 1 + 0.05 * cloud + 0.035 * grit + 0.25 * dust + (noise(x / 11, z / 11, seed + 25) > 0.9 ? 0.16 : 0);
    for (const blocker of blockers) level *= floorShade(blocker, x, z);
    level *= 1 - 0.25 * Math.exp(-v / 60);
    for (let k = 0; k < 3; k++) out[k] = base[k]! * level;
    return true;
  };
};

const ceilingPaint: Surface["paint"] = (u, v, out) => {
  const board = u % 1200 < 5 || v % 2400 < 5 ? 0.86 : 1;
  for (let k = 0; k < 3; k++) out[k] = 0.6 * board * (1 - 0.3 * Math.exp(-v / 200));
  return true;
};

const roomWidthMm = 16000;
const roomHeightMm = 3400;
const roomDepthMm = 12000;

/** Wall, floor and ceiling, with the shadows of what stands before the wall. */
export const roomSurfaces = (room: Room, blockers: readonly Blocker[]): Surface[] => {
  const whole = { along: [1, 0, 0], widthMm: roomWidthMm, smooth: true } as const;
  return [
    {
      ...whole,
      name: "floor",
      origin: [-roomWidthMm / 2, 0, 0],
      down: [0, 0, -1],
      heightMm: roomDepthMm,
      paint: floorPaint(room, blockers, roomWidthMm),
    },
    {
      ...whole,
      name: "wall",
      origin: [-roomWidthMm / 2, -roomHeightMm, 0],
      down: [0, 1, 0],
      heightMm: roomHeightMm,
      paint: wallPaint(room, blockers, roomWidthMm, roomHeightMm),
    },
    {
      ...whole,
      name: "ceiling",
      origin: [-roomWidthMm / 2, -roomHeightMm, 0],
      down: [0, 0, -1],
      heightMm: roomDepthMm,
      paint: ceilingPaint,
    },
  ];
};
