import type { Delivery, Opening } from "../contract/delivery.ts";
import type { FaceDifference, MatchView, SpaceStrip } from "../contract/views.ts";
import { canHang } from "../rules/can-hang.ts";
import { usualSight } from "../rules/sight-weights.ts";
import { swatch } from "../rules/swatch.ts";
import type { FaceRef, Measured, Site } from "../site.ts";
import { cutSentences } from "./cut-sentences.ts";

type StripPlace = SpaceStrip["places"][number];
type Lab = [number, number, number];

const meanLab = (parts: StripPlace["parts"]): Lab | null => {
  if (parts.length === 0) return null;
  const mean = (channel: 0 | 1 | 2): number => parts.reduce((sum, { lab }) => sum + lab[channel], 0) / parts.length;
  return [mean(0), mean(1), mean(2)];
};

/** What stands at one place of an opening, seen from one side of it. */
const placeSeen = (
  { allotment }: Delivery,
  measured: Measured,
  opening: Opening,
  place: 0 | 1,
  side: 0 | 1,
): StripPlace => {
  const placed = allotment.plan.find((one) => one.opening === opening.id && one.place === place);
  const leaf = opening.existingLeaf ?? placed?.leaf ?? null;
  const turned = opening.existingLeaf === null && (placed?.turned ?? false);
  const face = (side === 0) === turned ? "B" : "A";
  const parts = leaf === null ? [] : (measured.faces(leaf).find((one) => one.face === face)?.parts ?? []);
  const lab = meanLab(parts);
  return {
    opening: opening.id,
    place,
    leaf,
    face: leaf === null ? null : face,
    turned,
    locked: allotment.locks.some((lock) => lock.leaf === leaf && lock.opening === opening.id),
    existing: opening.existingLeaf !== null,
    swatch: lab && swatch(lab),
    lab,
    parts,
  };
};

const differencesOf = (places: readonly StripPlace[], measured: Measured): FaceDifference[] => {
  const faces = places.flatMap(({ leaf, face }): FaceRef[] => (leaf === null || face === null ? [] : [{ leaf, face }]));
  return faces.flatMap((a, index) => faces.slice(index + 1).map((b) => measured.difference(a, b)));
};

const cutsOf = (differences: readonly FaceDifference[], measured: Measured): string[] =>
  cutSentences(differences.flatMap(({ a, b }) => measured.cuts(a, b).map((difference) => ({ a, b, difference }))));

const stripOf = (delivery: Delivery, measured: Measured, space: SpaceStrip["space"]): SpaceStrip => {
  const places = delivery.openings.flatMap((opening) =>
    ([0, 1] as const)
      .filter((side) => opening.sides[side] === space.id)
      .flatMap((side) =>
        ([0, 1] as const).slice(0, opening.leaves).map((place) => placeSeen(delivery, measured, opening, place, side)),
      ),
  );
  const differences = differencesOf(places, measured).toSorted((a, b) => (b.deltaE ?? -1) - (a.deltaE ?? -1));
  const worst = differences.find(({ deltaE }) => deltaE !== null) ?? null;
  return { space, places, worst, differences, cuts: cutsOf(differences, measured) };
};

const planBefore = ({ before }: Delivery["allotment"]): MatchView["before"] => {
  if (!before) return null;
  const { plan, plannedAt, figures } = before;
  return { places: plan, plannedAt, figures };
};

const cannotTell = (spaces: readonly SpaceStrip[]): string[] => [
  ...new Set(
    spaces.flatMap(({ differences }) =>
      differences
        .filter(({ verdict }) => verdict === "cannot-tell")
        .map(
          ({ a, b, advice }) =>
            `${a.leaf} face ${a.face} and ${b.leaf} face ${b.face}: ${advice ?? "too near the tolerance."}`,
        ),
    ),
  ),
];

/** Every space as a strip of the faces seen in it, in the order of the openings, with all their differences, the largest first. */
export const viewMatch = (site: Site, deliveryId: string): MatchView => {
  const delivery = site.store.open(deliveryId).read();
  const measured = site.measuring.measured(deliveryId);
  const { terms, allotment, openings, leaves } = delivery;
  const spaces = delivery.spaces.map((space) => stripOf(delivery, measured, space));
  const placed = new Set(allotment.plan.map(({ leaf }) => leaf));
  return {
    tolerance: terms.toleranceDE00,
    confidence: terms.confidence,
    spaces,
    figures: allotment.figures,
    plannedAt: allotment.plannedAt,
    before: planBefore(allotment),
    sight: allotment.sight ?? usualSight,
    usualSight,
    planning: site.planning.progress(deliveryId),
    openings,
    patterns: delivery.patterns,
    leaves: leaves.map(({ code, pattern }) => ({ code, pattern })),
    spare: leaves.filter((leaf) => canHang(leaf) && !placed.has(leaf.code)).map(({ code }) => code),
    seq: site.store.open(deliveryId).head().seq,
    locks: allotment.locks,
    bans: allotment.bans,
    cannotTell: [...measured.untied, ...cannotTell(spaces)],
  };
};
