import type { AllotmentProblem, Ban, ExistingFace, Leaf, LeafFace, Lock } from "../../analysis/allot/allotment.ts";
import type { Delivery } from "../contract/delivery.ts";
import type { FaceSide } from "../contract/ids.ts";
import { Refusal } from "../problem.ts";
import { canHang } from "../rules/can-hang.ts";
import { giveUpOrder } from "../rules/give-up-order.ts";
import { whyNotInOpening } from "../rules/leaf-fits-opening.ts";
import { hiddenFaces } from "../rules/marked-face.ts";
import type { FaceRef, Measured } from "../site.ts";

type DeliveredLeaf = Delivery["leaves"][number];

const faceId = ({ leaf, face }: FaceRef): string => `${leaf}/${face}`;

const lightness = (measured: Measured, { leaf, face }: FaceRef): number | null => {
  const parts = measured.faces(leaf).find((one) => one.face === face)?.parts ?? [];
  return parts.length === 0 ? null : parts.reduce((sum, { lab }) => sum + lab[0], 0) / parts.length;
};

const leafIn = (leaf: DeliveredLeaf, delivery: Delivery, measured: Measured): Leaf => {
  const side = (face: FaceSide): LeafFace => {
    const ref = { leaf: leaf.code, face };
    return { id: faceId(ref), lightness: lightness(measured, ref) };
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
const existingFaces = ({ openings }: Delivery): { readonly ref: FaceRef; readonly face: ExistingFace }[] =>
  openings.flatMap(({ existingLeaf, sides }) =>
    existingLeaf === null
      ? []
      : (["A", "B"] as const).flatMap((face, side) => {
          const space = sides[side];
          const ref = { leaf: existingLeaf, face };
          return space ? [{ ref, face: { id: faceId(ref), space } }] : [];
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

/** Bans of people, and marked faces that are kept out of sight unless a person locked the leaf. */
const bansOf = (delivery: Delivery, usable: ReadonlySet<string>): Ban[] => {
  const { bans, locks } = delivery.allotment;
  const locked = new Set(locks.map(({ leaf }) => leaf));
  return [
    ...bans.flatMap(({ leaf, opening, space }): Ban[] => [
      ...(opening === null ? [] : [{ leaf, opening }]),
      ...(space === null ? [] : [{ leaf, space }]),
    ]),
    ...hiddenFaces(delivery).filter(({ leaf }) => !locked.has(leaf)),
  ].filter(({ leaf }) => usable.has(leaf));
};

/**
 * What is to be allotted, from what is known now. Two faces that cannot be compared count as if they differed by
 * the tolerance: more would hide what the plan can do for the others. Every two faces of a space count alike.
 */
export const allotmentProblem = (delivery: Delivery, measured: Measured): AllotmentProblem => {
  const leaves = delivery.leaves.filter(canHang);
  const usable = new Set(leaves.map(({ code }) => code));
  const existing = existingFaces(delivery);
  const refs: FaceRef[] = [
    ...leaves.flatMap(({ code }) => (["A", "B"] as const).map((face) => ({ leaf: code, face }))),
    ...existing.map(({ ref }) => ref),
  ];
  const deltaE = refs.map((a) => refs.map((b) => (a === b ? 0 : measured.difference(a, b).deltaE)));
  return {
    leaves: leaves.map((leaf) => leafIn(leaf, delivery, measured)),
    openings: delivery.openings
      .filter(({ existingLeaf }) => existingLeaf === null)
      .map(({ id, leaves: count, sides }) => ({ id, spec: id, leaves: count, spaces: sides })),
    spaces: delivery.spaces.map(({ id }) => ({ id, weight: 1 })),
    existing: existing.map(({ face }) => face),
    locks: locksOf(delivery, usable),
    bans: bansOf(delivery, usable),
    differences: { faces: refs.map(faceId), deltaE },
    meetingWeight: 1,
    notComparedAs: delivery.terms.toleranceDE00,
    mayStayEmpty: giveUpOrder(delivery, usable),
  };
};
