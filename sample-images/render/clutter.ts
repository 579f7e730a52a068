import { type Lab, type Rgb, rgbOfLab65 } from "./colour.ts";
import type { Blocker } from "./room.ts";
import { noise } from "./seeded.ts";
import { plain } from "./stand.ts";
import type { Surface } from "./surface.ts";
import { woodMaterial } from "./wood-reflectance.ts";

/** What lies about on a site. */
export type ClutterKind = "batten" | "carton" | "bucket" | "level" | "broom" | "roll of foam" | "dust sheet";

const upright = { along: [1, 0, 0], down: [0, 1, 0] } as const;

const leaning = (
  name: string,
  x: number,
  widthMm: number,
  heightMm: number,
  leanMm: number,
  paint: Surface["paint"],
): Surface => {
  const length = Math.hypot(heightMm, leanMm);
  return {
    name,
    origin: [x, -heightMm, -20],
    along: [1, 0, 0],
    down: [0, heightMm / length, -leanMm / length],
    widthMm,
    heightMm: length,
    paint,
  };
};

const fill = (out: Float64Array, colour: Rgb, level: number): true => {
  for (let k = 0; k < 3; k++) out[k] = colour[k]! * level;
  return true;
};

const batten = (x: number): Surface => {
  const pine = rgbOfLab65([76, 7, 27]);
  const surface = leaning("batten", x, 47, 1950, 260, (u, v, out) =>
    fill(
      out,
      pine,
      (u < 3 ? 0.8 : u > 44 ? 0.72 : 1) * (1 + 0.06 * noise(u / 6, v / 300, 3) + 0.03 * noise(u / 1.5, v / 90, 4)),
    ),
  );
  return { ...surface, material: woodMaterial };
};

const level = (x: number): Surface => {
  const body = rgbOfLab65([72, 4, 66]);
  const dark = rgbOfLab65([22, 0, 0]);
  return leaning("level", x, 58, 1180, 170, (u, v, out) => {
    const vial = Math.abs(v - 590) < 34 || Math.abs(v - 90) < 20;
    const cap = v < 22 || v > 1165;
    return fill(out, cap || (vial && Math.abs(u - 29) < 17) ? dark : body, u < 6 || u > 52 ? 0.82 : 1);
  });
};

const broom = (x: number): Surface => {
  const stick = rgbOfLab65([66, 12, 30]);
  const bristle: Lab = [36, 10, 14];
  const hair = rgbOfLab65(bristle);
  return leaning("broom", x, 360, 1420, 210, (u, v, out) => {
    if (v < 1290) return Math.abs(u - 180) < 12 && fill(out, stick, 1 - (0.3 * Math.abs(u - 178)) / 12);
    if (v < 1330) return fill(out, stick, 0.85);
    return fill(out, hair, 0.8 + 0.5 * noise(u / 4, v / 60, 8));
  });
};

const carton = (x: number, z: number): Surface[] => {
  const front = rgbOfLab65([63, 9, 25]);
  return [
    {
      name: "carton",
      ...upright,
      origin: [x, -310, z],
      widthMm: 420,
      heightMm: 310,
      paint: (u, v, out) => {
        const tape = Math.abs(u - 210) < 26 && v < 70;
        const print = u > 300 && u < 390 && v > 210 && v < 270 && noise(u / 9, v / 9, 12) > 0.1;
        return fill(
          out,
          front,
          (tape ? 1.16 : print ? 0.6 : 1) * (1 + 0.02 * noise(u / 3, v / 200, 13) - 0.1 * Math.exp((v - 310) / 24)),
        );
      },
    },
    plain(
      "carton top",
      { along: [1, 0, 0], down: [0, 0, -1], origin: [x, -310, z + 300] },
      420,
      300,
      [69, 8, 25],
      0.03,
    ),
    plain(
      "carton side",
      { along: [0, 0, 1], down: [0, 1, 0], origin: [x + 420, -310, z] },
      300,
      310,
      [50, 9, 22],
      0.03,
    ),
  ];
};

const bucket = (x: number, z: number): Surface => {
  const black = rgbOfLab65([24, 0, -1]);
  const rim = rgbOfLab65([40, 0, -1]);
  return {
    name: "bucket",
    ...upright,
    origin: [x, -290, z],
    widthMm: 310,
    heightMm: 290,
    paint: (u, v, out) => {
      const half = 152 - v * 0.13 - Math.max(0, v - 278) * 2.2;
      const t = (u - 155) / half;
      if (Math.abs(t) > 1) return false;
      const splash = noise(u / 22, v / 34, 31) > 0.55 ? 3.2 : 1;
      return fill(out, v < 22 ? rim : black, (1 - 0.45 * t * t + 0.5 * Math.exp(-(((t + 0.45) / 0.14) ** 2))) * splash);
    },
  };
};

const foamRoll = (x: number, z: number): Surface => {
  const foam = rgbOfLab65([90, -0.5, 0.5]);
  return {
    name: "roll of foam",
    ...upright,
    origin: [x, -1010, z],
    widthMm: 230,
    heightMm: 1010,
    paint: (u, v, out) => {
      const t = (u - 115) / 113;
      if (Math.abs(t) > 1) return false;
      return fill(
        out,
        foam,
        (1 - 0.42 * t * t - 0.12 * t) * (1 + 0.03 * noise(u / 9, v / 120, 41)) * (v < 6 ? 0.8 : 1),
      );
    },
  };
};

const dustSheet = (x: number, seed: number): Surface => {
  const cloth = rgbOfLab65([78, 1, 9]);
  return {
    name: "dust sheet",
    along: [1, 0, 0],
    down: [0, 0, -1],
    origin: [x, -1, -330],
    widthMm: 1500,
    heightMm: 900,
    paint: (u, v, out) => {
      const rough = 26 * noise(u / 130, v / 130, seed);
      if (u + rough < 40 || v + rough < 34 || u - rough > 1460) return false;
      const fold =
        noise(u / 150 + v / 260, v / 210 - u / 500, seed + 1) + 0.6 * noise(u / 50 - v / 90, v / 70, seed + 2);
      return fill(out, cloth, 0.92 + 0.16 * fold);
    },
  };
};

/** Surfaces of one thing at x mm from the middle of the room, front to back. */
export const clutterAt = (kind: ClutterKind, x: number, seed: number): Surface[] => {
  switch (kind) {
    case "batten":
      return [batten(x)];
    case "level":
      return [level(x)];
    case "broom":
      return [broom(x)];
    case "carton":
      return carton(x, -420);
    case "bucket":
      return [bucket(x, -330)];
    case "roll of foam":
      return [foamRoll(x, -210)];
    case "dust sheet":
      return [dustSheet(x, seed)];
  }
};

/** The light that one thing takes from the wall and floor; null for what lies flat. */
export const clutterBlocker = (kind: ClutterKind, x: number): Blocker | null => {
  switch (kind) {
    case "batten":
      return { left: x, right: x + 47, top: -1950, gapMm: 190 };
    case "level":
      return { left: x, right: x + 58, top: -1180, gapMm: 130 };
    case "broom":
      return { left: x + 150, right: x + 210, top: -1420, gapMm: 160 };
    case "carton":
      return { left: x, right: x + 420, top: -310, gapMm: 350 };
    case "bucket":
      return { left: x + 30, right: x + 280, top: -290, gapMm: 300 };
    case "roll of foam":
      return { left: x, right: x + 230, top: -1010, gapMm: 200 };
    case "dust sheet":
      return null;
  }
};
