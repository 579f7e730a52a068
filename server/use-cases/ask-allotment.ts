import type { FewMoves } from "../../analysis/allot/fewest-moves.ts";
import type { Waiting } from "../../analysis/allot/late-leaf.ts";
import type { Body, Reply } from "../contract/calls.ts";
import type { FewMovesAnswer, LateAnswer } from "../contract/questions.ts";
import { Refusal } from "../problem.ts";
import type { Site } from "../site.ts";
import { askedOf } from "./allotment-as-it-stands.ts";
import { plannedOr } from "./planned-or.ts";
import { checkLocks } from "./set-wishes.ts";

const fewMovesOf = ({ loss, changed, bound, proven, plan, moved }: FewMoves): FewMovesAnswer => ({
  loss: loss < Number.POSITIVE_INFINITY ? loss : null,
  changed,
  bound,
  proven,
  worst: plan.worst,
  sum: plan.sum,
  moved: [...moved],
});

/** The fewest leaves to return for colour so that every space keeps the tolerance, the agreed one unless another is named. */
export const askReturns = async (
  site: Site,
  deliveryId: string,
  { tolerance }: Body<"askReturns">,
): Promise<Reply<"askReturns">> => {
  const { delivery, problem } = askedOf(site, deliveryId);
  const asked = tolerance ?? delivery.terms.toleranceDE00;
  const answer = plannedOr(await site.askAllotment({ kind: "returns", problem, tolerance: asked }));
  if (answer.kind === "locks-clash")
    throw new Refusal(
      `Leaves that are held differ by more than ${asked} among themselves: ${answer.locks.map(({ leaf, opening }) => `${leaf} in ${opening}`).join(", ")}. Let one go and ask again.`,
    );
  const { bound, proven, replace, plan } = answer;
  return { tolerance: asked, bound, proven, worst: plan.worst, replace: [...replace] };
};

const waitingOf = ({ opening, place, turned, meanwhile, afterwards }: Waiting) => ({
  opening,
  place,
  turned,
  meanwhile,
  afterwards,
});

/** Which opening to leave empty while a leaf is late. */
export const askLate = async (site: Site, deliveryId: string, { leaf }: Body<"askLate">): Promise<LateAnswer> => {
  const { problem } = askedOf(site, deliveryId);
  if (!problem.leaves.some(({ id }) => id === leaf))
    throw new Refusal(`${leaf} is not among the leaves that can hang: ask about one that is to be hung.`, 422);
  const answer = plannedOr(await site.askAllotment({ kind: "late", problem, leaf }));
  if (answer.kind === "not-needed") return { leaf, waiting: null };
  const { unseen, counted } = answer;
  return { leaf, waiting: { unseen: waitingOf(unseen), counted: counted && waitingOf(counted) } };
};

/** What fewer or more moves from the plan as it stands would give, for a loss of at most `loss`. */
export const askMoves = async (
  site: Site,
  deliveryId: string,
  { loss }: Body<"askMoves">,
): Promise<Reply<"askMoves">> => {
  const { problem, before } = askedOf(site, deliveryId);
  const answer = plannedOr(await site.askAllotment({ kind: "moves", problem, before, loss }));
  return { chosen: fewMovesOf(answer.chosen), curve: answer.curve.map(fewMovesOf) };
};

/** What changes if a leaf is held in an opening. */
export const askWhatIf = async (
  site: Site,
  deliveryId: string,
  { leaf, opening, turned, loss }: Body<"askWhatIf">,
): Promise<Reply<"askWhatIf">> => {
  const { delivery, problem, before } = askedOf(site, deliveryId);
  checkLocks([{ leaf, opening, place: 0, turned }], delivery);
  const wish = { locks: [{ leaf, opening, ...(turned === null ? {} : { turned }) }], bans: [] };
  const { now, wished, least } = plannedOr(await site.askAllotment({ kind: "what-if", problem, before, wish, loss }));
  return {
    now: { worst: now.worst, sum: now.sum },
    wished: { worst: wished.worst, sum: wished.sum },
    least: fewMovesOf(least),
  };
};
