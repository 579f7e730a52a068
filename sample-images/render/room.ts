import { type Lab, type Rgb, rgbOfLab65 } from "./colour.ts";
import { between, noise, seeded } from "./seeded.ts";
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

/** What is on every wall of a site: filler over screw holes, a pencil line at a metre, a metal box waiting for its socket. */
const wallMarks = (seed: number): ((x: number, y: number) => number) => {
  const random = seeded(seed);
  const spots = Array.from({ length: 26 }, () => ({
    x: between(random, -1700, 1700),
    y: between(random, -2900, -150),
    wide: between(random, 12, 46),
    tall: between(random, 9, 30),
    level: between(random, 1.03, 1.1),
  }));
  const boxAt = (random() < 0.5 ? -1 : 1) * between(random, 600, 760);
  return (x, y) => {
    const inBox = Math.max(Math.abs(x - boxAt), Math.abs(y + 448));
    if (inBox < 33) return 0.3 + 0.1 * noise(x / 12, y / 30, seed);
    if (inBox < 36) return 1.12;
    if (inBox < 44 + 8 * noise(x / 9, y / 9, seed)) return 0.84;
    const pencil = Math.abs(y + 1000 + x * 0.004) < 0.8 && noise(x / 260, 0.5, seed + 1) > 0.1;
    let level = pencil ? 0.72 : 1;
    for (const spot of spots) {
      const dx = (x - spot.x) / spot.wide;
      if (dx < -1.6 || dx > 1.6) continue;
      const dy = (y - spot.y) / spot.tall;
      const reach = dx * dx + dy * dy + 0.4 * noise(x / 11, y / 11, seed + 2);
      if (reach < 1) level *= 1 + (spot.level - 1) * Math.min(1, (1 - reach) * 3);
    }
    return level;
  };
};

const wallPaint = (room: Room, blockers: readonly Blocker[], widthMm: number, heightMm: number): Surface["paint"] => {
  const base = rgbOfLab65(room.wall);
  const damp: Rgb = [0.9, 0.87, 0.84];
  const { seed, bare } = room;
  const marked = wallMarks(seed);
  return (u, v, out) => {
    const x = u - widthMm / 2;
    const y = v - heightMm;
    const cloud = noise(x / 900, y / 700, seed) + 0.5 * noise(x / 310, y / 240, seed + 1);
    const stroke = noise(x / 240 + y / 900, y / 46 - x / 700, seed + 2) * noise(x / 500, y / 400, seed + 3);
    const pit = noise(x / 7, y / 7, seed + 4) > 0.93 ? 0.9 : 1;
    let level =
      (1 + (0.014 + 0.035 * bare) * cloud + (0.012 + 0.04 * bare) * stroke + 0.006 * noise(x / 3, y / 3, seed + 5)) *
      pit;
    level *= marked(x, y);
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
