import { axesOf, type Camera, cross, dot, move, type Point3, type PointPx, project } from "./camera.ts";
import type { Material } from "./material.ts";

/**
 * A flat rectangle in the room. `along` and `down` are unit vectors at right angles; `paint` writes the true colour (linear
 * sRGB under D65) at a place in mm from `origin`, or answers false where it is see-through.
 */
export interface Surface {
  readonly name: string;
  readonly origin: Point3;
  readonly along: Point3;
  readonly down: Point3;
  readonly widthMm: number;
  readonly heightMm: number;
  /** True where neighbouring rays of one pixel may share a colour: nothing on it is finer than a pixel. */
  readonly smooth?: boolean;
  /** The smoothest one where it is not told. */
  readonly material?: Material;
  readonly paint: (xMm: number, yMm: number, out: Float64Array) => boolean;
}

/** The point of the room at (x, y) mm on a surface. */
export const pointOn = (
  { origin, along, down }: Pick<Surface, "origin" | "along" | "down">,
  xMm: number,
  yMm: number,
): Point3 => move(move(origin, along, xMm), down, yMm);

/** Corners in the photo, top left, top right, bottom right, bottom left; null when one lies behind the camera. */
export const cornersPx = (
  camera: Camera,
  surface: Surface,
  rect: readonly [number, number, number, number] = [0, 0, surface.widthMm, surface.heightMm],
): PointPx[] | null => {
  const [x, y, w, h] = rect;
  const corners = (
    [
      [x, y],
      [x + w, y],
      [x + w, y + h],
      [x, y + h],
    ] as const
  ).map(([u, v]) => project(camera, pointOn(surface, u, v)));
  return corners.every((corner) => corner !== null) ? corners : null;
};

/** What a ray meets: with d = (x, y, 1) of the undistorted picture, u = a.d / c.d and v = b.d / c.d in mm; in front while t / c.d > 0. */
export interface Aim {
  readonly a: Point3;
  readonly b: Point3;
  readonly c: Point3;
  readonly t: number;
  /** Box in the photo that holds the surface, px. */
  readonly box: readonly [left: number, top: number, right: number, bottom: number];
}

/** Points all round a surface in the photo, since the lens bends its edges; null when one lies behind the camera. */
const rimPx = (camera: Camera, surface: Surface): PointPx[] | null => {
  const shares = Array.from({ length: 33 }, (_, i) => i / 32);
  const { widthMm: w, heightMm: h } = surface;
  const rim = shares
    .flatMap((share) => [
      pointOn(surface, share * w, 0),
      pointOn(surface, share * w, h),
      pointOn(surface, 0, share * h),
      pointOn(surface, w, share * h),
    ])
    .map((point) => project(camera, point));
  return rim.every((point) => point !== null) ? rim : null;
};

/** The rays of a camera, solved for one surface. */
export const aimAt = (camera: Camera, surface: Surface): Aim => {
  const axes = axesOf(camera);
  const normal = cross(surface.along, surface.down);
  const from = move(camera.positionMm, surface.origin, -1);
  const height = dot(from, normal);
  const seen = (v: Point3): Point3 => [dot(v, axes[0]), dot(v, axes[1]), dot(v, axes[2])];
  const across = (side: Point3): Point3 => {
    const reach = dot(from, side);
    return seen([
      reach * normal[0] - height * side[0],
      reach * normal[1] - height * side[1],
      reach * normal[2] - height * side[2],
    ]);
  };
  const rim = rimPx(camera, surface);
  const xs = rim?.map(([x]) => x) ?? [0, camera.widthPx];
  const ys = rim?.map(([, y]) => y) ?? [0, camera.heightPx];
  const slack = 12;
  return {
    a: across(surface.along),
    b: across(surface.down),
    c: seen(normal),
    t: -height,
    box: [Math.min(...xs) - slack, Math.min(...ys) - slack, Math.max(...xs) + slack, Math.max(...ys) + slack],
  };
};
