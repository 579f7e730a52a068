import type { Camera, Point3 } from "./camera.ts";
import type { ClutterKind } from "./clutter.ts";
import type { DemoLeaf, FaceName } from "./demo-leaves.ts";
import type { Light } from "./light.ts";
import type { Encoding } from "./phone.ts";
import type { ReferenceKind } from "./references.ts";
import { between, seeded, seedOf } from "./seeded.ts";
import type { Held, Shot, Standing } from "./shot.ts";
import type { Site } from "./sites.ts";

/** What a photo may differ in from the plain one of its place. */
export interface Wish {
  readonly taken: string;
  readonly size?: readonly [widthPx: number, heightPx: number];
  readonly orientation?: number;
  readonly encoding?: Encoding;
  readonly quality?: number;
  readonly clutter?: readonly (readonly [ClutterKind, number])[];
  /** Share of the picture's height (a single) or width (a line-up) that the leaves take. */
  readonly fill?: number;
  readonly azimuthDeg?: number;
  readonly aimMm?: readonly [x: number, y: number];
  readonly noise?: number;
}

/** A camera that stands `distanceMm` from a point, to its side by `azimuthDeg`, and sees `frameMm` over the picture's height. */
export const cameraAt = (
  target: Point3,
  distanceMm: number,
  azimuthDeg: number,
  heightMm: number,
  frameMm: number,
  [widthPx, heightPx]: readonly [number, number],
  rollDeg: number,
  k1: number,
): Camera => {
  const a = (azimuthDeg * Math.PI) / 180;
  const positionMm: Point3 = [target[0] + distanceMm * Math.sin(a), -heightMm, target[2] - distanceMm * Math.cos(a)];
  const [dx, dy, dz] = [target[0] - positionMm[0], target[1] - positionMm[1], target[2] - positionMm[2]];
  return {
    widthPx,
    heightPx,
    focalPx: (heightPx * Math.hypot(dx, dy, dz)) / frameMm,
    k1,
    positionMm,
    yawDeg: (Math.atan2(dx, dz) * 180) / Math.PI,
    pitchDeg: (Math.atan2(dy, Math.hypot(dx, dz)) * 180) / Math.PI,
    rollDeg,
  };
};

/** Light and exposure of a photo: the brightest white in it comes to 0.8 to 0.93 of full scale. */
const lightOf = (site: Site, random: () => number, centreMm: readonly [number, number], restless: number) => {
  const off = () => between(random, -0.05, 0.05) * restless;
  const falling = {
    daylight: site.daylight,
    lamps: site.lamps,
    centreMm,
    slope: [site.slope[0] + off(), site.slope[1] + off() * 0.6],
    radial: Math.max(0, site.radial + off() * 0.2),
    lampSlope: [off() * 0.6, off() * 0.6],
  } as const;
  const greyShown = [between(random, 0.9, 1.14), 1, between(random, 0.84, 1.14)] as const;
  const gain = between(random, 0.8, 0.93) / (0.92 * Math.max(...greyShown) * 1.07);
  const light: Light = { ...falling, lampShare: site.lampShare + off() * 3 };
  return { light, greyShown, gain };
};

const common = (file: string, site: Site, wish: Wish) => ({
  file,
  taken: wish.taken,
  phone: site.phone,
  encoding: wish.encoding ?? "srgb",
  orientation: wish.orientation ?? 1,
  quality: wish.quality ?? 91,
  room: site.room,
  softnessPx: 0.5,
  noise: wish.noise ?? 2.2,
  glare: [],
});

/** How a leaf is held ready for its photo. */
export interface Pose {
  readonly leaf: DemoLeaf;
  readonly face: FaceName;
  readonly hung?: boolean;
}

/** Where a reference is held: beside the leaf on a post, to the left or right, or against the leaf. */
export type Side = "left" | "right" | "on";

const widths: Readonly<Record<ReferenceKind, number>> = {
  card: 210,
  "card-with-grey": 210,
  chart: 278,
  "other-chart": 278,
  grey: 200,
};

const holdAt = (kind: ReferenceKind, side: Side, { leaf, hung }: Pose, random: () => number): Held => {
  const width = widths[kind];
  const y = side === "on" ? between(random, 780, 900) - (hung ? 330 : 0) : between(random, 620, 900);
  const x =
    side === "left"
      ? -width - between(random, 45, 70)
      : side === "right"
        ? leaf.widthMm + between(random, 45, 70)
        : between(random, 0.5, 0.58) * leaf.widthMm;
  return { kind, atMm: [x, y], turnDeg: between(random, -1.2, 1.2) };
};

/** One leaf, both edges and all four corners in the frame, with the references named. */
export const single = (
  file: string,
  site: Site,
  pose: Pose,
  references: readonly (readonly [ReferenceKind, Side])[],
  wish: Wish,
): Shot => {
  const random = seeded(seedOf(file));
  const { leaf, face, hung = false } = pose;
  const place = { leftMm: -leaf.widthMm / 2, leanDeg: hung ? 0 : between(random, 2.2, 3.4), liftMm: hung ? 8 : 62 };
  const held = references.map(([kind, side]) => holdAt(kind, side, pose, random));
  const left = Math.min(0, ...held.map(({ atMm }) => atMm[0]));
  const right = Math.max(leaf.widthMm, ...held.map(({ atMm, kind }) => atMm[0] + widths[kind]));
  const middle = place.leftMm + (left + right) / 2;
  const size = wish.size ?? [1732, 2309];
  const frame = leaf.heightMm / (wish.fill ?? between(random, 0.83, 0.87));
  const target: Point3 = [
    middle + between(random, -30, 30),
    -place.liftMm - leaf.heightMm / 2 + between(random, -25, 40),
    -90,
  ];
  return {
    ...common(file, site, wish),
    kind: "single",
    camera: cameraAt(
      target,
      between(random, 2800, 3300),
      wish.azimuthDeg ?? between(random, -5, 5),
      between(random, 1180, 1420),
      frame,
      size,
      between(random, -1.1, 1.1),
      site.phone.k1,
    ),
    standing: [{ leaf, face, place, hung }],
    held,
    clutter: wish.clutter ?? [],
    ...lightOf(site, random, [0, -1080], site.restless),
  };
};

/** Several leaves side by side, left to right. */
export const lineUp = (file: string, site: Site, poses: readonly Pose[], wish: Wish): Shot => {
  const random = seeded(seedOf(file));
  const gap = 64;
  const total = poses.reduce((sum, { leaf }) => sum + leaf.widthMm + gap, -gap);
  let left = -total / 2;
  const standing = poses.map(({ leaf, face }): Standing => {
    const place = { leftMm: left, leanDeg: between(random, 2.2, 3.4), liftMm: 62 };
    left += leaf.widthMm + gap + between(random, -14, 14);
    return { leaf, face, place, hung: false };
  });
  const size = wish.size ?? [2832, 2124];
  const frame = Math.max((total / (wish.fill ?? 0.88)) * (size[1] / size[0]), 2040 / 0.82);
  return {
    ...common(file, site, wish),
    kind: "line-up",
    camera: cameraAt(
      [between(random, -40, 40), -1130, -90],
      between(random, 3900, 4500),
      between(random, -6, 6),
      between(random, 1250, 1450),
      frame,
      size,
      between(random, -0.8, 0.8),
      site.phone.k1,
    ),
    standing,
    held: [],
    clutter: wish.clutter ?? [],
    ...lightOf(site, random, [0, -1080], site.restless),
  };
};

/** A piece of a face about 400 mm wide, round a place in mm. */
export const closeUp = (
  file: string,
  site: Site,
  pose: Pose,
  kind: "detail" | "label",
  centreMm: readonly [number, number],
  wish: Wish,
): Shot => {
  const random = seeded(seedOf(file));
  const { leaf, face } = pose;
  const place = { leftMm: -leaf.widthMm / 2, leanDeg: between(random, 2.2, 3.4), liftMm: 62 };
  const lean = (place.leanDeg * Math.PI) / 180;
  const y = -place.liftMm - (leaf.heightMm - centreMm[1]) * Math.cos(lean);
  const z = -(leaf.thicknessMm + 6) - centreMm[1] * Math.sin(lean);
  const size = wish.size ?? [2309, 1732];
  const frame = (400 * size[1]) / size[0];
  const target: Point3 = [place.leftMm + centreMm[0] + between(random, -14, 14), y + between(random, -10, 10), z];
  return {
    ...common(file, site, wish),
    kind,
    camera: cameraAt(
      target,
      between(random, 520, 600),
      between(random, -5, 5),
      -y + between(random, 10, 60),
      frame,
      size,
      between(random, -1.5, 1.5),
      site.phone.k1,
    ),
    standing: [{ leaf, face, place, hung: false }],
    held: [],
    clutter: [],
    ...lightOf(site, random, [place.leftMm + centreMm[0], y], site.restless),
  };
};
