import type { SurenessAnswer } from "../contract/questions.ts";
import { Refusal } from "../problem.ts";
import type { Site } from "../site.ts";
import { askedOf } from "./allotment-as-it-stands.ts";
import { faceOfName } from "./face-of-seat.ts";
import { plannedOr } from "./planned-or.ts";

/** How sure the plan as it stands is, within the uncertainty of its differences. */
export const askSureness = async (site: Site, deliveryId: string): Promise<SurenessAnswer> => {
  const { delivery, problem, before } = askedOf(site, deliveryId);
  if (before.length === 0) throw new Refusal("There is no plan to be sure of yet. Plan the allotment first.");
  const { toleranceDE00: tolerance } = delivery.terms;
  const answer = plannedOr(await site.askAllotment({ kind: "sureness", problem, places: before, tolerance }));
  const { redraws, photo } = answer;
  return {
    tolerance: answer.tolerance,
    redraws,
    spaces: [...answer.spaces],
    leaves: [...answer.leaves],
    decisions: [...answer.decisions],
    photo: photo && { one: faceOfName(photo.one), other: faceOfName(photo.other), settles: photo.settles },
  };
};
