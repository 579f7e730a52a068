import type { Lack } from "../../analysis/allot/allotment.ts";
import { Refusal } from "../problem.ts";

/** What an allotment, or a question about one, answers with when there is no plan. */
type NoPlan =
  | { readonly kind: "refused"; readonly why: string }
  | {
      readonly kind: "impossible";
      readonly openings: readonly { readonly opening: string; readonly lacks: string }[];
      readonly lacks: readonly Lack[];
    };

/** The answer, or a refusal that names what stands in the way. */
export const plannedOr = <Answer extends { readonly kind: string }>(answer: Answer): Exclude<Answer, NoPlan> => {
  const noPlan = answer as unknown as NoPlan;
  if (noPlan.kind === "refused") throw new Refusal(`The allotment cannot be planned: ${noPlan.why}.`);
  if (noPlan.kind === "impossible")
    throw new Refusal(
      "There is no plan for all openings.",
      409,
      noPlan.openings.map(({ opening, lacks }) => ({ at: opening, says: lacks })),
    );
  return answer as Exclude<Answer, NoPlan>;
};
