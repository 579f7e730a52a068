import { uniformFrom } from "../../../analysis/algebra/seeded-random.ts";
import { fitHomography } from "../../../analysis/homography.ts";
import { bend, type Lens, plainLens, straighten } from "../../../analysis/lens.ts";
import { type Pixels, type Point, type Quad, uprightPixels } from "../../../analysis/pixels.ts";

type Colour = readonly [number, number, number];

/** A flat sheet on the wall: where its top left corner is (mm on the wall), its size, and its colour at a place in mm. */
export interface Sheet {
  readonly atMm: Point;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly colour: (x: number, y: number) => Colour;
}

/** A camera before the wall: scale in the middle of the picture, where it looks (mm), turned by yaw and roll (degrees). */
export interface Camera {
  readonly width: number;
  readonly height: number;
  readonly pxPerMm: number;
  readonly lookAtMm: Point;
  readonly yaw?: number;
  readonly roll?: number;
  readonly k1?: number;
}

const focalShare = 0.75;

/** Where a point of the wall is seen, px, by pinhole and radial bow. */
export const seenAt = (camera: Camera, [x, y]: Point): Point => bend(lensOf(camera), ideal(camera, [x, y]));

export const lensOf = ({ width, height, k1 = 0 }: Camera): Lens => ({ ...plainLens(width, height), k1 });

/** Where a point of the wall is seen without the bow of the lens, px. */
export const ideal = ({ width, height, pxPerMm, lookAtMm, yaw = 0, roll = 0 }: Camera, [x, y]: Point): Point => {
  const f = focalShare * Math.max(width, height);
  const distance = f / pxPerMm;
  const t = (yaw * Math.PI) / 180;
  const r = (roll * Math.PI) / 180;
  const dx = x - lookAtMm[0];
  const dy = y - lookAtMm[1];
  const u = dx * Math.cos(r) - dy * Math.sin(r);
  const v = dx * Math.sin(r) + dy * Math.cos(r);
  const depth = distance + u * Math.sin(t);
  return [width / 2 + (f * u * Math.cos(t)) / depth, height / 2 + (f * v) / depth];
};

/** Corners of a sheet in the photo. */
export const cornersOf = (camera: Camera, { atMm: [x, y], widthMm, heightMm }: Sheet): Quad => [
  seenAt(camera, [x, y]),
  seenAt(camera, [x + widthMm, y]),
  seenAt(camera, [x + widthMm, y + heightMm]),
  seenAt(camera, [x, y + heightMm]),
];

/** The photo of a wall with sheets on it, later ones over earlier ones, with noise of 3 codes. */
export const photograph = (camera: Camera, wall: Colour, sheets: readonly Sheet[]): Pixels => {
  const { width, height } = camera;
  const random = uniformFrom(5);
  const lens = lensOf(camera);
  const square: Quad = [
    [0, 0],
    [1000, 0],
    [1000, 1000],
    [0, 1000],
  ];
  const [a, b, c, d, e, f, g, h] = fitHomography(
    square.map((p) => ideal(camera, p)),
    square,
  )!;
  const data = new Uint8ClampedArray(width * height * 3);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const [u, v] = lens.k1 === 0 ? [x + 0.5, y + 0.5] : straighten(lens, [x + 0.5, y + 0.5]);
      const w = g * u + h * v + 1;
      const colour = colourAt((a * u + b * v + c) / w, (d * u + e * v + f) / w, wall, sheets);
      const noise = (random() - 0.5) * 6;
      const at = (y * width + x) * 3;
      data[at] = colour[0] + noise;
      data[at + 1] = colour[1] + noise;
      data[at + 2] = colour[2] + noise;
    }
  }
  return uprightPixels(new Uint8Array(data.buffer), width, height, "srgb");
};

const colourAt = (u: number, v: number, wall: Colour, sheets: readonly Sheet[]): Colour => {
  for (let i = sheets.length - 1; i >= 0; i--) {
    const { atMm, widthMm, heightMm, colour } = sheets[i]!;
    const x = u - atMm[0];
    const y = v - atMm[1];
    if (x >= 0 && y >= 0 && x < widthMm && y < heightMm) return colour(x, y);
  }
  return wall;
};

/** An oak-like leaf with upright grain and a panel set in by mouldings. */
export const leafAt = (atMm: Point, widthMm: number, heightMm: number): Sheet => ({
  atMm,
  widthMm,
  heightMm,
  colour: (x, y) => {
    const grain = 6 * Math.sin(x / 4 + 2 * Math.sin(y / 170)) + 4 * Math.sin(x / 1.7);
    const inset = Math.min(x - 110, widthMm - 110 - x, y - 120, heightMm - 200 - y);
    const moulding = inset > 0 && inset < 14 ? -30 : 0;
    return [176 + grain + moulding, 140 + grain + moulding, 100 + grain + moulding];
  },
});

/** Greatest distance between two outlines' corners, px. */
export const apart = (one: Quad, other: Quad): number =>
  Math.max(...one.map(([x, y], k) => Math.hypot(x - other[k]![0], y - other[k]![1])));
