import type { AllotmentProblem, Ban, ExistingFace, Leaf, LeafFace, Lock } from "../../analysis/allot/allotment.ts";
import type { Delivery } from "../contract/delivery.ts";
import type { FaceSide } from "../contract/ids.ts";
import { Refusal } from "../problem.ts";
import { acceptedMark } from "../rules/accepted-mark.ts";
import { canHang } from "../rules/can-hang.ts";
import { giveUpOrder } from "../rules/give-up-order.ts";
import { whyNotInOpening } from "../rules/leaf-fits-opening.ts";
import { usualSight } from "../rules/sight-weights.ts";
import { spaceLook } from "../rules/space-look.ts";
import type { FaceRef, Measured } from "../site.ts";
import { differenceTable } from "./difference-table.ts";

type DeliveredLeaf = Delivery["leaves"][number];

const faceId = ({ leaf, face }: FaceRef): string => `${leaf}/${face}`;

const lightness = (measured: Measured, { leaf, face }: FaceRef): number | null => {
  const parts = measured.faces(leaf).find((one) => one.face === face)?.parts ?? [];
  return parts.length === 0 ? null : parts.reduce((sum, { lab }) => sum + lab[0], 0) / parts.length;
};

const leafIn = (leaf: DeliveredLeaf, delivery: Delivery, measured: Measured): Leaf => {
  const side = (face: FaceSide): LeafFace => {
    const ref = { leaf: leaf.code, face };
    const mark = acceptedMark(delivery, leaf.code, face);
    return { id: faceId(ref), lightness: lightness(measured, ref), ...(mark > 0 && { mark }) };
  };
  return {
    id: leaf.code,
    fits: {
      openings: delivery.openings
        .filter((opening) => opening.existingLeaf === null && whyNotInOpening(leaf, opening, delivery) === null)
        .map(({ id }) => id),
    },
    faces: { A: side("A"), B: side("B") },
    mayTurn: true,
    state: "free",
  };
};

/** Faces of leaves that hang there already: face A looks into the first space of the opening. */
const existingFaces = (
  { openings }: Delivery,
  measured: Measured,
): { readonly ref: FaceRef; readonly face: ExistingFace }[] =>
  openings.flatMap(({ existingLeaf, sides }) =>
    existingLeaf === null
      ? []
      : (["A", "B"] as const).flatMap((face, side) => {
          const space = sides[side];
          const ref = { leaf: existingLeaf, face };
          return space ? [{ ref, face: { id: faceId(ref), space, lightness: lightness(measured, ref) } }] : [];
        }),
  );

/** Locks of people, and leaves that are cut: they hang where they were planned, as they were turned. */
const locksOf = ({ allotment, leaves }: Delivery, usable: ReadonlySet<string>): Lock[] => {
  const gone = allotment.locks.find(({ leaf }) => !usable.has(leaf));
  if (gone)
    throw new Refusal(`${gone.leaf} is locked to ${gone.opening} and cannot hang there any more: take the lock back.`);
  const locked = new Set(allotment.locks.map(({ leaf }) => leaf));
  const cut = allotment.plan.filter(
    ({ leaf }) => usable.has(leaf) && !locked.has(leaf) && leaves.some(({ code, cut }) => code === leaf && cut),
  );
  return [...allotment.locks, ...cut].map(({ leaf, opening, place, turned }) => ({
    leaf,
    opening,
    place,
    ...(turned === null ? {} : { turned }),
  }));
};

const bansOf = ({ allotment }: Delivery, usable: ReadonlySet<string>): Ban[] =>
  allotment.bans
    .filter(({ leaf }) => usable.has(leaf))
    .flatMap(({ leaf, opening, space }): Ban[] => [
      ...(opening === null ? [] : [{ leaf, opening }]),
      ...(space === null ? [] : [{ leaf, space }]),
    ]);

/** Names of what stands in each opening that looks into the space. */
const seatsIn = (space: string, { openings }: Delivery, existing: readonly ExistingFace[]) =>
  new Map(
    openings
      .filter(({ sides }) => sides.includes(space))
      .map(({ id, existingLeaf }): [string, string[]] => [
        id,
        existingLeaf === null
          ? [id]
          : existing
              .filter((face) => face.space === space && face.id.startsWith(`${existingLeaf}/`))
              .map((face) => face.id),
      ]),
  );

/** Mean L* of the faces of the leaves that can hang in the openings named. */
const averageLightness = (leaves: readonly Leaf[], openings: ReadonlyMap<string, unknown>): number | null => {
  const known = leaves
    .filter(({ fits }) => "openings" in fits && fits.openings.some((id) => openings.has(id)))
    .flatMap(({ faces }) => [faces.A.lightness, faces.B.lightness])
    .filter((value) => value !== null);
  return known.length === 0 ? null : known.reduce((sum, value) => sum + value, 0) / known.length;
};

/**
 * What is to be allotted, from what is known now. Two faces that cannot be compared count as if they differed by
 * the tolerance: more would hide what the plan can do for the others. Differences count as their upper bounds at the agreed
 * confidence: below the tolerance, a match can be claimed.
 */
export const allotmentProblem = (delivery: Delivery, measured: Measured): AllotmentProblem => {
  const delivered = delivery.leaves.filter(canHang);
  const usable = new Set(delivered.map(({ code }) => code));
  const known = existingFaces(delivery, measured);
  const refs: FaceRef[] = [
    ...delivered.flatMap(({ code }) => (["A", "B"] as const).map((face) => ({ leaf: code, face }))),
    ...known.map(({ ref }) => ref),
  ];
  const leaves = delivered.map((leaf) => leafIn(leaf, delivery, measured));
  const existing = known.map(({ face }) => face);
  const { meeting, ...sight } = delivery.allotment.sight ?? usualSight;
  return {
    leaves,
    openings: delivery.openings
      .filter(({ existingLeaf }) => existingLeaf === null)
      .map(({ id, leaves: count, sides }) => ({ id, spec: id, leaves: count, spaces: sides })),
    spaces: delivery.spaces.map((space) => {
      const seats = seatsIn(space.id, delivery, existing);
      return spaceLook(space, seats, averageLightness(leaves, seats));
    }),
    existing,
    locks: locksOf(delivery, usable),
    bans: bansOf(delivery, usable),
    differences: differenceTable(refs, faceId, (one, other) => measured.difference(one, other)),
    confidence: delivery.terms.confidence,
    tolerance: delivery.terms.toleranceDE00,
    meetingWeight: meeting,
    sight,
    notComparedAs: delivery.terms.toleranceDE00,
    mayStayEmpty: giveUpOrder(delivery, usable),
  };
};
