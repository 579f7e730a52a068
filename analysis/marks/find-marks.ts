import { apply3, type Matrix3, type Vector3 } from "../algebra/matrix3.ts";
import { deltaE00 } from "../colour/delta-e00.ts";
import { type Lab65, xyzToLab65 } from "../colour/lab.ts";
import { fieldOf, labPerShare, meanLight, type PartField } from "../grain/part-field.ts";
import { coarsen } from "../grain/smooth.ts";
import type { FaceLayout, Part } from "../leaf-parts.ts";
import type { FaceGrid } from "../rectify/resample.ts";
import { type LabPlanes, unlikeGrain } from "./grain-background.ts";
import { type MarkKind, markKind } from "./mark-kind.ts";
import { type Region, regionsAbove } from "./regions.ts";
import { type Look, lineLook, patchLook } from "./strangeness.ts";

/** A place the photo shows that the grain does not explain, for a person to judge. The kind is a proposal; natural features too. */
export interface ProposedMark {
  /** mm on the face. */
  readonly box: { readonly x: number; readonly y: number; readonly w: number; readonly h: number };
  readonly kind: MarkKind;
  /** ΔE00 of the place to the timber round it, as far as the photo's own colours tell. */
  readonly contrastDE00: number;
  /** 1: what about one place on a face reaches by its grain alone. */
  readonly score: number;
}

/**
 * What one place on a face reaches by its grain alone, for each look, in what one cell in a hundred reaches. Measured on ten rendered
 * faces of oak, five leaves, 1 mm cells, so that the looks can be compared; other timbers may differ.
 */
const byGrainAlone = { fine: 3.1, line: 3.4, small: 2.35, middle: 2.2, large: 1.95, wide: 1.85 } as const;

/** ΔE00 below which a small place is hardly seen by eye on figured wood. Common practice, no source. */
const leastContrast = 2;

/**
 * A patch as large as a label and as far from the wood as paper is no mark: something lies on the face. Stains and
 * sand-through on veneer stay below half of it (the rendered ones reach 12). Nothing is proposed in its rim: the grain's own
 * background is spoilt there.
 */
const laidOn = { contrastDE00: 25, leastSideMm: 25, rimMm: 30 } as const;

const isLaidOn = ({ box, contrastDE00 }: ProposedMark): boolean =>
  contrastDE00 > laidOn.contrastDE00 && Math.min(box.w, box.h) > laidOn.leastSideMm;

/**
 * Places on a face that stand out from the grain they lie in, the strangest first; never more than `most`. The grid should have cells
 * of 1 to 1.5 mm, and nothing usable under a label or a card (`withoutCovers`). `toXyz` takes the photo's linear light to XYZ.
 */
export const findMarks = (grid: FaceGrid, layout: FaceLayout, toXyz: Matrix3, most = 10): ProposedMark[] => {
  const all = layout.parts.flatMap((part) => marksOnPart(grid, layout, part, toXyz));
  const kept: ProposedMark[] = [];
  const laid = all.filter(isLaidOn);
  for (const one of all.toSorted((a, b) => b.score - a.score)) {
    if (kept.length === most) break;
    if (one.contrastDE00 < leastContrast || laid.some((other) => near(one.box, other.box, laidOn.rimMm))) continue;
    if (!kept.some((other) => near(one.box, other.box, oneMarkMm))) kept.push(one);
  }
  return kept;
};

/** Two places less than this apart are one mark. */
const oneMarkMm = 8;

const near = (a: ProposedMark["box"], b: ProposedMark["box"], mm: number): boolean =>
  a.x < b.x + b.w + mm && b.x < a.x + a.w + mm && a.y < b.y + b.h + mm && b.y < a.y + a.h + mm;

/** Cells of one fineness in which a look is taken, with the differences from the grain. */
interface Differences {
  readonly along: number;
  readonly across: number;
  readonly usable: Uint8Array;
  readonly lab: LabPlanes;
  /** Cells of the field a cell is wide. */
  readonly side: number;
}

const marksOnPart = (grid: FaceGrid, layout: FaceLayout, part: Part, toXyz: Matrix3): ProposedMark[] => {
  const [x, y, w, h] = part.rectMm;
  const outer = { left: x <= 0, top: y <= 0, right: x + w >= layout.widthMm, bottom: y + h >= layout.heightMm };
  const field = fieldOf(grid, part, (side) => (outer[side] ? 1 : 2));
  const mean = field && meanLight(field);
  if (!field || !mean) return [];
  const lab = unlikeGrain(field, labPerShare(mean, toXyz));
  const fine: Differences = { ...field, lab, side: 1 };
  const coarse = coarser(fine, Math.max(1, Math.round(3 / grid.mmPerCell)));
  const looks: readonly (readonly [Differences, Look, number])[] = [
    [fine, patchLook(fine, fine.lab, 3), byGrainAlone.fine],
    [fine, lineLook(fine, fine.lab[0], Math.round(30 / grid.mmPerCell)), byGrainAlone.line],
    [coarse, patchLook(coarse, coarse.lab, 2), byGrainAlone.small],
    [coarse, patchLook(coarse, coarse.lab, 4), byGrainAlone.middle],
    [coarse, patchLook(coarse, coarse.lab, 8), byGrainAlone.large],
    [coarse, patchLook(coarse, coarse.lab, 14), byGrainAlone.wide],
  ];
  const timber = xyzToLab65(apply3(toXyz, mean));
  return looks.flatMap(([cells, look, usual]) =>
    regionsAbove(look.along, look.strange, 0.85 * usual).map((region) =>
      propose(field, layout, cells, look, region, usual, timber),
    ),
  );
};

const propose = (
  field: PartField,
  { widthMm, heightMm }: FaceLayout,
  { along, side, lab }: Differences,
  look: Look,
  region: Region,
  usual: number,
  timber: Lab65,
): ProposedMark => {
  const { fromAlong, fromAcross, toAlong, toAcross, peak } = region;
  const [x, y, w, h] = field.boxMm(fromAlong * side, fromAcross * side, toAlong * side, toAcross * side);
  const toEdgeMm = Math.min(x, y, widthMm - x - w, heightMm - y - h);
  const cells = coreOf(look, region, lab);
  const mean = (plane: Float32Array): number => cells.reduce((sum, cell) => sum + plane[cell]!, 0) / cells.length;
  const unlike: Vector3 = [mean(lab[0]), mean(lab[1]), mean(lab[2])];
  const toSide = Math.min(fromAcross, Math.floor(field.across / side) - toAcross, fromAlong, along - toAlong);
  const cellMm = side * field.mmPerCell;
  const kind = markKind({
    alongMm: (toAlong - fromAlong) * cellMm,
    acrossMm: (toAcross - fromAcross) * cellMm,
    toEdgeMm,
    toJointMm: toEdgeMm > 12 ? toSide * cellMm : Number.POSITIVE_INFINITY,
    line: look.kind === "line",
    unlike,
    lightest: region.cells.reduce((most, cell) => Math.max(most, lab[0][cell]!), 0),
    darkest: region.cells.reduce((least, cell) => Math.min(least, lab[0][cell]!), 0),
  });
  const colour: Lab65 = [timber[0] + unlike[0], timber[1] + unlike[1], timber[2] + unlike[2]];
  return { box: { x, y, w, h }, kind, contrastDE00: deltaE00(timber, colour), score: peak / usual };
};

/** The cells that tell the colour: of a patch those near its peak, of a line the third that differs most in lightness. */
const coreOf = (look: Look, { cells, peak }: Region, [L]: LabPlanes): readonly number[] =>
  look.kind === "patch"
    ? cells.filter((cell) => look.strange[cell]! >= 0.8 * peak)
    : cells.toSorted((a, b) => Math.abs(L[b]!) - Math.abs(L[a]!)).slice(0, Math.ceil(cells.length / 3));

const coarser = (cells: Differences, side: number): Differences => {
  const share = coarsen(cells, cells.usable, side);
  const usable = new Uint8Array(share.length);
  for (let i = 0; i < share.length; i++) if (share[i]! > 0.6) usable[i] = 1;
  return {
    along: Math.floor(cells.along / side),
    across: Math.floor(cells.across / side),
    usable,
    lab: [coarsen(cells, cells.lab[0], side), coarsen(cells, cells.lab[1], side), coarsen(cells, cells.lab[2], side)],
    side: side * cells.side,
  };
};
