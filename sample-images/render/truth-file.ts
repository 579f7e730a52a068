import { demoLeaves, type FaceName } from "./demo-leaves.ts";
import { paintFace, truePartColours } from "./face.ts";
import { photoOfJob } from "./job-file.ts";
import { labelRectMm } from "./label.ts";
import type { RectMm } from "./raster.ts";
import { makeReference } from "./references.ts";
import { roundedCorners, type Scene } from "./scene.ts";
import type { Shot } from "./shot.ts";
import type { Surface } from "./surface.ts";
import type { Figure, Veneer } from "./wood.ts";

const faces: readonly FaceName[] = ["A", "B"];
const rounded = (values: readonly number[]): number[] => values.map((v) => Math.round(v * 1000) / 1000);

/** Colours of every part and boxes of every mark, measured on the painted faces themselves at 2 px a mm. */
export const faceTruths = (figures: Readonly<Record<Veneer, Figure>>) =>
  demoLeaves.flatMap((leaf) =>
    faces.map((face) => ({
      leaf: leaf.id,
      face,
      design: leaf.pattern,
      veneer: leaf.veneer,
      size_mm: [leaf.widthMm, leaf.heightMm],
      parts: truePartColours(
        paintFace(leaf, face, figures[leaf.veneer], 2, [0, 0, leaf.widthMm, leaf.heightMm]),
        leaf,
        face,
      ).map(({ part, kind, grain, rectMm, lab }) => ({ part, kind, grain, rect_mm: rectMm, lab: rounded(lab) })),
      marks: leaf.faces[face].marks.map(({ kind, natural, boxMm, depthMm, from, until }) => ({
        kind,
        label: natural ? "natural" : "defect",
        box_mm: boxMm,
        ...(depthMm === undefined ? {} : { depth_mm: depthMm }),
        ...(from === undefined ? {} : { from }),
        ...(until === undefined ? {} : { until }),
      })),
    })),
  );

const withinPhoto = (shot: Shot, corners: readonly (readonly [number, number])[] | null): boolean =>
  corners?.every(([x, y]) => x >= 0 && y >= 0 && x <= shot.camera.widthPx && y <= shot.camera.heightPx) ?? false;

/** Corners and colours that a photo was made with. */
export const photoTruth = (shot: Shot, scene: Scene) => {
  const placed = (surface: Surface, rect?: RectMm) => roundedCorners(shot, surface, rect);
  return {
    ...photoOfJob(shot),
    size_px: [shot.camera.widthPx, shot.camera.heightPx],
    orientation: shot.orientation,
    encoding: shot.encoding,
    phone: shot.phone.model,
    white_balance: rounded(shot.greyShown),
    leaves: scene.leaves.map(({ leaf, face, surface }) => {
      const corners = placed(surface);
      return {
        leaf: leaf.id,
        face,
        corners_px: corners,
        whole: withinPhoto(shot, corners),
        label_px: shot.standing.some(({ hung }) => hung) ? null : placed(surface, labelRectMm),
        marks: shot.mark
          ? [{ kind: shot.mark.kind, box_mm: shot.mark.boxMm, corners_px: placed(surface, shot.mark.boxMm) }]
          : [],
      };
    }),
    references: scene.references.map(({ reference, surface }) => ({
      kind: reference.kind,
      size_mm: reference.sizeMm,
      corners_px: placed(surface),
      patches: reference.patches.map(({ name, rectMm }) => ({ name, corners_px: placed(surface, rectMm) })),
    })),
  };
};

/** Colours of the references, Lab under D65: what the card was printed in, what the charts and the grey card are. */
export const referenceTruths = () =>
  (["card-with-grey", "chart", "other-chart", "grey"] as const).map((made) => {
    const { kind, sizeMm, patches } = makeReference(made);
    return {
      made,
      kind,
      size_mm: sizeMm,
      patches: patches.map(({ name, rectMm, lab }) => ({ name, rect_mm: rectMm, lab: rounded(lab) })),
    };
  });
