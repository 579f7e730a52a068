/** A point in the room, mm: x to the right, y down, z away from the camera; the wall stands at z = 0, the floor at y = 0. */
export type Point3 = readonly [x: number, y: number, z: number];
/** A place in the upright photo, px; (0, 0) is the outer corner of the top left pixel. */
export type PointPx = readonly [x: number, y: number];

/** Pinhole with radial distortion: undistorted = distorted * (1 + k1 r^2), r measured in focal lengths from the centre. */
export interface Camera {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly focalPx: number;
  readonly k1: number;
  readonly positionMm: Point3;
  readonly yawDeg: number;
  readonly pitchDeg: number;
  readonly rollDeg: number;
}

type Axes = readonly [right: Point3, down: Point3, ahead: Point3];

export const dot = (a: Point3, b: Point3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a: Point3, b: Point3): Point3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
/** `from` plus `step` times `along`. */
export const move = (from: Point3, along: Point3, step: number): Point3 => [
  from[0] + along[0] * step,
  from[1] + along[1] * step,
  from[2] + along[2] * step,
];

/** The camera's own axes in the room: turned by yaw (to the right), then pitch (downwards), then roll. */
export const axesOf = ({ yawDeg, pitchDeg, rollDeg }: Camera): Axes => {
  const [y, p, r] = [yawDeg, pitchDeg, rollDeg].map((d) => (d * Math.PI) / 180) as [number, number, number];
  const ahead: Point3 = [Math.sin(y) * Math.cos(p), Math.sin(p), Math.cos(y) * Math.cos(p)];
  const level: Point3 = [Math.cos(y), 0, -Math.sin(y)];
  const below = cross(ahead, level);
  const right = move([level[0] * Math.cos(r), level[1] * Math.cos(r), level[2] * Math.cos(r)], below, Math.sin(r));
  return [right, cross(ahead, right), ahead];
};

/** Where a point of the room lies in the photo, lens distortion included; null behind the camera. */
export const project = (camera: Camera, point: Point3): PointPx | null => {
  const [right, down, ahead] = axesOf(camera);
  const away = move(point, camera.positionMm, -1);
  const depth = dot(away, ahead);
  if (depth < 1) return null;
  const x = dot(away, right) / depth;
  const y = dot(away, down) / depth;
  const r = Math.hypot(x, y);
  let bent = r;
  for (let i = 0; i < 12; i++) bent = r / (1 + camera.k1 * bent * bent);
  const scale = r === 0 ? 1 : bent / r;
  return [camera.widthPx / 2 + camera.focalPx * x * scale, camera.heightPx / 2 + camera.focalPx * y * scale];
};
