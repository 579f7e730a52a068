import { type FaceColours, type PartLook, replacementLook } from "../../analysis/allot/replacement-look.ts";
import type { Reply } from "../contract/calls.ts";
import type { Delivery } from "../contract/delivery.ts";
import type { FaceSide } from "../contract/ids.ts";
import { Refusal } from "../problem.ts";
import { swatch } from "../rules/swatch.ts";
import type { Measured, Site } from "../site.ts";
import { allotmentProblem } from "./allotment-problem.ts";

const coloursOf = ({ leaves, openings }: Delivery, measured: Measured): FaceColours => {
  const hanging = openings.flatMap(({ existingLeaf }) => existingLeaf ?? []);
  const codes = [...new Set([...leaves.map(({ code }) => code), ...hanging])];
  return new Map(codes.flatMap((leaf) => measured.faces(leaf).map(({ face, parts }) => [`${leaf}/${face}`, parts])));
};

const answerOf = ({ space, part, target, knownWithin, like }: PartLook, { spaces }: Delivery) => {
  if (target.kind === "no-neighbours") return [];
  const [L, a, b] = target.kind === "target" ? target.centre : target.nearest;
  const lab: [number, number, number] = [L, a, b];
  const range = ([low, high]: readonly [number, number]): [number, number] => [low, high];
  const [leaf = "", face] = like?.face.split("/") ?? [];
  return [
    {
      space: spaces.find(({ id }) => id === space)?.name ?? space,
      part,
      lab,
      swatch: swatch(lab),
      worst: target.worst,
      ranges:
        target.kind === "target"
          ? ([range(target.ranges[0]), range(target.ranges[1]), range(target.ranges[2])] as [
              [number, number],
              [number, number],
              [number, number],
            ])
          : null,
      knownWithin,
      like: like && { leaf, face: face as FaceSide, deltaE: like.deltaE, words: like.words },
    },
  ];
};

/** What a leaf ordered for a place must look like, beside the faces the plan shows with it. */
export const askReplacement = (
  site: Site,
  deliveryId: string,
  at: { readonly opening: string; readonly place: string },
): Reply<"askReplacement"> => {
  const delivery = site.store.open(deliveryId).read();
  const measured = site.measuring.measured(deliveryId);
  const opening = delivery.openings.find(({ id }) => id === at.opening);
  const place = at.place === "1" ? 1 : 0;
  if (!opening || (at.place !== "0" && at.place !== "1") || place >= opening.leaves)
    throw new Refusal(`There is no place ${at.place} in an opening ${at.opening} in the schedule.`, 404);
  const problem = allotmentProblem(delivery, measured);
  const { plan } = delivery.allotment;
  const tolerance = delivery.terms.toleranceDE00;
  const looks = replacementLook(
    problem,
    plan,
    { opening: opening.id, place },
    coloursOf(delivery, measured),
    tolerance,
  );
  return { opening: opening.id, place, looks: looks.flatMap((look) => answerOf(look, delivery)) };
};
