import type { Point3 } from "./camera.ts";
import { type Lab, type Rgb, rgbOfLab65 } from "./colour.ts";
import type { DemoLeaf } from "./demo-leaves.ts";
import type { Raster } from "./raster.ts";
import { sampleRaster } from "./raster.ts";
import type { Blocker } from "./room.ts";
import { noise } from "./seeded.ts";
import { pointOn, type Surface } from "./surface.ts";
import { woodMaterial } from "./wood-reflectance.ts";

/** Where a leaf stands: its left edge, its lean, and how far its foot is lifted. Hung leaves have no lean and no blocks. */
export interface Place {
  readonly leftMm: number;
  readonly leanDeg: number;
  readonly liftMm: number;
}

type Plane = Pick<Surface, "origin" | "along" | "down">;

const away = ({ down }: Plane): Point3 => [0, -down[2], down[1]];

/** A plane in front of or behind another by some mm (negative: nearer to the camera), shifted on it. */
export const shifted = (plane: Plane, xMm: number, yMm: number, behindMm: number): Plane => {
  const at = pointOn(plane, xMm, yMm);
  const back = away(plane);
  return { ...plane, origin: [at[0] + back[0] * behindMm, at[1] + back[1] * behindMm, at[2] + back[2] * behindMm] };
};

/** The front plane of a leaf that leans against the wall with its top. */
export const leafPlane = (leaf: DemoLeaf, { leftMm, leanDeg, liftMm }: Place): Plane => {
  const lean = (leanDeg * Math.PI) / 180;
  return {
    origin: [leftMm, -liftMm - leaf.heightMm * Math.cos(lean), -(leaf.thicknessMm + 6)],
    along: [1, 0, 0],
    down: [0, Math.cos(lean), -Math.sin(lean)],
  };
};

/** A picture laid on a plane. */
export const pictureOn = (name: string, plane: Plane, raster: Raster, widthMm: number, heightMm: number): Surface => ({
  name,
  ...plane,
  widthMm,
  heightMm,
  paint: (x, y, out) => sampleRaster(raster, x, y, out),
});

/** A plain flat thing with a little dirt on it. */
export const plain = (
  name: string,
  plane: Plane,
  widthMm: number,
  heightMm: number,
  lab: Lab,
  rough = 0.04,
): Surface => {
  const base = rgbOfLab65(lab);
  const seed = Math.round(widthMm * 7 + heightMm * 13);
  return {
    name,
    ...plane,
    widthMm,
    heightMm,
    paint: (x, y, out) => {
      const level = 1 + rough * (noise(x / 60, y / 60, seed) + 0.5 * noise(x / 9, y / 9, seed + 1));
      for (let k = 0; k < 3; k++) out[k] = base[k]! * level;
      return true;
    },
  };
};

/** The two long edges of a leaf, seen when the camera stands aside; lipped in the same wood, in their own shade. */
export const leafEdges = (leaf: DemoLeaf, plane: Plane, colour: Rgb): Surface[] => {
  const edge = (name: string, xMm: number, level: number): Surface => ({
    name,
    origin: pointOn(plane, xMm, 0),
    along: away(plane),
    down: plane.down,
    widthMm: leaf.thicknessMm,
    heightMm: leaf.heightMm,
    material: woodMaterial,
    paint: (x, y, out) => {
      const grain = 1 + 0.05 * noise(x / 1.5, y / 90, 5) + 0.06 * noise(x / 4, y / 300, 6);
      for (let k = 0; k < 3; k++) out[k] = colour[k]! * level * grain;
      return true;
    },
  });
  return [edge("left edge", 0, 0.8), edge("right edge", leaf.widthMm, 0.55)];
};

/** Two timber blocks with carpet on top under the foot of a leaf. */
export const blocksUnder = (leaf: DemoLeaf, plane: Plane, liftMm: number): Surface[] => {
  const foot = pointOn(plane, 0, leaf.heightMm);
  return [0.14, 0.72].flatMap((share, i): Surface[] => {
    const x = foot[0] + leaf.widthMm * share;
    const z = foot[2] - 26;
    const front = { along: [1, 0, 0], down: [0, 1, 0] } as const;
    return [
      plain("carpet", { ...front, origin: [x - 6, -liftMm - 4, z - 3] }, 124, 13, [44, 3, i ? -6 : 4], 0.16),
      {
        ...plain("block", { ...front, origin: [x, -liftMm + 8, z] }, 112, liftMm - 8, [68, 9, 27], 0.1),
        material: woodMaterial,
      },
      plain(
        "carpet top",
        { along: [1, 0, 0], down: [0, 0, 1], origin: [x - 6, -liftMm - 4, z - 3] },
        124,
        90,
        [46, 3, i ? -6 : 4],
        0.16,
      ),
    ];
  });
};

/** What the leaf keeps from the light. */
export const blockerOf = (leaf: DemoLeaf, place: Place): Blocker => ({
  left: place.leftMm,
  right: place.leftMm + leaf.widthMm,
  top: -place.liftMm - leaf.heightMm,
  gapMm: leaf.heightMm * Math.sin((place.leanDeg * Math.PI) / 180),
});

/** A painted frame round a hung leaf, in front of the wall, mitred, with the gap of 3 mm a fire leaf may have. */
export const frameRound = (leaf: DemoLeaf, plane: Plane): Surface[] => {
  const { widthMm: w, heightMm: h } = leaf;
  const paint = rgbOfLab65([88, -0.5, 3.5]);
  const wide = 89;
  const edge = wide + 3;
  const architrave: Surface["paint"] = (u, v, out) => {
    const across = Math.min(u, w + 2 * edge - u);
    const inwards = Math.min(across, v);
    if (inwards > wide) return false;
    const mitre = v < wide && across < wide && Math.abs(across - v) < 0.7;
    const head = v < across;
    const mould = 0.05 * Math.exp(-(((inwards - 74) / 4) ** 2)) - 0.13 * Math.exp(-(((inwards - 66) / 2) ** 2));
    const rim = inwards < 3 || inwards > wide - 2 ? -0.16 : 0;
    const level = (mitre ? 0.8 : 1) * (1 + mould + rim + (head ? -0.03 : 0)) * (1 + 0.01 * noise(u / 30, v / 30, 3));
    for (let k = 0; k < 3; k++) out[k] = paint[k]! * level;
    return true;
  };
  return [
    {
      name: "frame",
      ...shifted(plane, -edge, -edge, 4),
      widthMm: w + 2 * edge,
      heightMm: h + edge + 8,
      paint: architrave,
    },
    plain("gap", shifted(plane, -4, -4, 8), w + 8, h + 14, [12, 1, 2], 0),
  ];
};

/** A lever handle on its rose, at the height of the lock rail; its picture is in the plane of the leaf. */
export const leverHandle = (plane: Plane, xMm: number, yMm: number, towards: 1 | -1): Surface => {
  const size = 170;
  return {
    name: "handle",
    ...shifted(plane, xMm - size / 2, yMm - size / 2, -2),
    widthMm: size,
    heightMm: size,
    paint: (u, v, out) => {
      const x = (u - size / 2) * towards;
      const y = v - size / 2;
      const r = Math.hypot(x, y);
      const lever = x > -9 && x < 72 && Math.abs(y) < 9 - Math.max(0, x - 63) * 0.5;
      if (r > 26 && !lever) return false;
      const shine = lever
        ? 0.34 + 0.3 * Math.exp(-(((y + 3) / 3) ** 2)) - 0.12 * (y / 9)
        : 0.3 + 0.16 * Math.exp(-(((r - 21) / 2) ** 2)) - 0.003 * y;
      out[0] = shine;
      out[1] = shine * 0.99;
      out[2] = shine * 0.96;
      return true;
    },
  };
};
