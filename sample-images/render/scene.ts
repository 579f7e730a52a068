import type { PointPx } from "./camera.ts";
import { clutterAt, clutterBlocker } from "./clutter.ts";
import { rgbOfLab65 } from "./colour.ts";
import { paintFace, paintMarks } from "./face.ts";
import { labelRectMm, paintLabel } from "./label.ts";
import type { RectMm } from "./raster.ts";
import { makeReference, type Reference } from "./references.ts";
import { type Blocker, roomSurfaces } from "./room.ts";
import type { Held, Shot, Standing } from "./shot.ts";
import {
  blockerOf,
  blocksUnder,
  frameRound,
  leafEdges,
  leafPlane,
  leverHandle,
  pictureOn,
  plain,
  shifted,
} from "./stand.ts";
import { cornersPx, pointOn, type Surface } from "./surface.ts";
import type { Figure, Veneer } from "./wood.ts";
import { woodMaterial } from "./wood-reflectance.ts";

/** Reference with the surface it lies on, for the picture and for its truth. */
interface HeldReference {
  readonly reference: Reference;
  readonly surface: Surface;
}

/** What stands before the camera, front to back. */
export interface Scene {
  readonly surfaces: readonly Surface[];
  readonly leaves: readonly (Standing & { readonly surface: Surface })[];
  readonly references: readonly HeldReference[];
}

/** The piece of a face that a detail needs, with room about it. */
const windowOf = (shot: Shot, { leaf }: Standing): { windowMm: RectMm; pxPerMm: number } => {
  const whole: RectMm = [0, 0, leaf.widthMm, leaf.heightMm];
  if (shot.kind !== "detail" && shot.kind !== "label")
    return { windowMm: whole, pxPerMm: shot.kind === "line-up" ? 1.5 : 2 };
  const [x, y, w, h] = shot.mark?.boxMm ?? labelRectMm;
  const left = Math.max(0, x + w / 2 - 330);
  const top = Math.max(0, y + h / 2 - 270);
  const right = Math.min(leaf.widthMm, x + w / 2 + 330);
  const bottom = Math.min(leaf.heightMm, y + h / 2 + 270);
  return { windowMm: [left, top, right - left, bottom - top], pxPerMm: 5 };
};

const standLeaf = (shot: Shot, standing: Standing, figures: Readonly<Record<Veneer, Figure>>) => {
  const { leaf, face, place, hung } = standing;
  const plane = leafPlane(leaf, place);
  const { windowMm, pxPerMm } = windowOf(shot, standing);
  const raster = paintFace(leaf, face, figures[leaf.veneer], pxPerMm, windowMm);
  paintMarks(raster, leaf, face, shot.taken);
  const picture = pictureOn(`${leaf.id}/${face}`, plane, raster, leaf.widthMm, leaf.heightMm);
  const surface = { ...picture, material: woodMaterial };
  const [x, y, ...size] = labelRectMm;
  const label = pictureOn("label", shifted(plane, x, y, -0.3), paintLabel(leaf.id, leaf.claimed), ...size);
  const edges = leafEdges(leaf, plane, rgbOfLab65(leaf.faces[face].lab));
  const fittings = hung
    ? [leverHandle(plane, face === "A" ? leaf.widthMm - 62 : 62, 985, face === "A" ? -1 : 1)]
    : [label];
  const behind = hung ? frameRound(leaf, plane) : [...edges, ...blocksUnder(leaf, plane, place.liftMm)];
  return { standing: { ...standing, surface }, surfaces: [...fittings, surface, ...behind] };
};

const turned = (plane: Pick<Surface, "origin" | "along" | "down">, deg: number) => {
  const c = Math.cos((deg * Math.PI) / 180);
  const s = Math.sin((deg * Math.PI) / 180);
  const { along: a, down: d } = plane;
  return {
    ...plane,
    along: [c * a[0] + s * d[0], c * a[1] + s * d[1], c * a[2] + s * d[2]] as const,
    down: [c * d[0] - s * a[0], c * d[1] - s * a[1], c * d[2] - s * a[2]] as const,
  };
};

/** The patches that are of a material of their own, as surfaces. */
const patchSurfaces = ({ patches }: Reference, lying: Pick<Surface, "origin" | "along" | "down">): Surface[] =>
  patches.flatMap(({ name, rectMm: [x, y, w, h], lab, material }) =>
    material ? [{ ...plain(name, shifted(lying, x, y, 0), w, h, lab, 0), material }] : [],
  );

const holdReference = (
  { kind, atMm, turnDeg }: Held,
  { leaf, place }: Standing,
): { held: HeldReference; surfaces: Surface[] } => {
  const reference = makeReference(kind);
  const [w, h] = reference.sizeMm;
  const plane = leafPlane(leaf, place);
  const lying = turned(shifted(plane, atMm[0], atMm[1], -1.5), turnDeg);
  const surface = pictureOn(reference.kind, lying, reference.raster, w, h);
  const front = [...patchSurfaces(reference, lying), surface];
  const beside = atMm[0] < -w || atMm[0] > leaf.widthMm;
  const backing = plain(
    "board",
    turned(shifted(plane, atMm[0] - 9, atMm[1] - 9, 0), turnDeg),
    w + 18,
    h + 18,
    [54, 5, 15],
    0.03,
  );
  const underneath = shifted(plane, atMm[0] + w / 2 - 22, atMm[1] + h / 2, 4);
  const post = {
    ...plain("post", underneath, 44, leaf.heightMm - atMm[1] - h / 2 + place.liftMm, [70, 8, 26], 0.05),
    material: woodMaterial,
  };
  return { held: { reference, surface }, surfaces: beside ? [...front, backing, post] : front };
};

/** The soft shadow that a reference on a post casts on the wall. */
const postBlocker = ({ atMm, kind }: Held, { leaf, place }: Standing): Blocker => {
  const [w] = makeReference(kind).sizeMm;
  const [x, y] = pointOn(leafPlane(leaf, place), atMm[0], atMm[1]);
  return { left: x + w / 2 - 40, right: x + w / 2 + 40, top: y, gapMm: 90 };
};

/** Builds the room of a shot with everything in it. `figures` holds the grain of each veneer. */
export const buildScene = (shot: Shot, figures: Readonly<Record<Veneer, Figure>>): Scene => {
  const leaves = shot.standing.map((standing) => standLeaf(shot, standing, figures));
  const first = shot.standing[0];
  const held = first ? shot.held.map((reference) => holdReference(reference, first)) : [];
  const posts = first
    ? shot.held
        .filter(({ atMm }) => atMm[0] < 0 || atMm[0] > first.leaf.widthMm)
        .map((reference) => postBlocker(reference, first))
    : [];
  const things = shot.clutter.map(([kind, x]) => clutterBlocker(kind, x)).filter((blocker) => blocker !== null);
  const blockers = [
    ...shot.standing.filter(({ hung }) => !hung).map(({ leaf, place }) => blockerOf(leaf, place)),
    ...posts,
    ...things,
  ];
  const clutter = shot.clutter.flatMap(([kind, x]) => clutterAt(kind, x, shot.room.seed + Math.round(x)));
  const onFloor = clutter.filter(({ name }) => name === "dust sheet");
  return {
    surfaces: [
      ...clutter.filter(({ name }) => name !== "dust sheet"),
      ...held.flatMap(({ surfaces }) => surfaces),
      ...leaves.flatMap(({ surfaces }) => surfaces),
      ...onFloor,
      ...roomSurfaces(shot.room, blockers),
    ],
    leaves: leaves.map(({ standing }) => standing),
    references: held.map(({ held: reference }) => reference),
  };
};

/** Corners of a rectangle of a surface in the photo, rounded to a hundredth of a pixel. */
export const roundedCorners = (shot: Shot, surface: Surface, rect?: RectMm): PointPx[] | null =>
  cornersPx(shot.camera, surface, rect)?.map(
    ([x, y]): PointPx => [Math.round(x * 100) / 100, Math.round(y * 100) / 100],
  ) ?? null;
