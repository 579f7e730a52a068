import type { Reply, Signed } from "../contract/calls.ts";
import type { Delivery } from "../contract/delivery.ts";
import { Refusal } from "../problem.ts";
import { canHang } from "../rules/can-hang.ts";
import type { Site } from "../site.ts";
import { viewMatch } from "./view-match.ts";

type Placed = Delivery["allotment"]["plan"][number];

/** Why the plan before cannot hang any more, a sentence, or null when it can. */
const whyNot = ({ allotment, leaves }: Delivery, before: readonly Placed[]): string | null => {
  const placeOf = (plan: readonly Placed[], code: string) => plan.find(({ leaf }) => leaf === code);
  const isThere = (one: Placed | undefined, at: Pick<Placed, "opening" | "place">, turned: boolean | null): boolean =>
    one?.opening === at.opening && one.place === at.place && (turned === null || one.turned === turned);
  const gone = before.find(({ leaf }) => !leaves.some((one) => one.code === leaf && canHang(one)));
  if (gone) return `${gone.leaf} cannot hang any more`;
  const lock = allotment.locks.find((one) => !isThere(placeOf(before, one.leaf), one, one.turned));
  if (lock) return `${lock.leaf} is locked to ${lock.opening}`;
  const cut = allotment.plan.find(
    (one) =>
      leaves.some(({ code, cut }) => code === one.leaf && cut) && !isThere(placeOf(before, one.leaf), one, one.turned),
  );
  return cut ? `${cut.leaf} is cut for ${cut.opening}` : null;
};

/** The plan and the one before it change places; refused, naming the leaf, when the one before cannot hang any more. */
export const takePlanBack = async (
  site: Site,
  deliveryId: string,
  { by }: Signed<"takePlanBack">,
): Promise<Reply<"takePlanBack">> => {
  await site.store.open(deliveryId).change(by, "Went back to the plan before", (delivery) => {
    const { allotment } = delivery;
    const { before, plan, plannedAt, figures } = allotment;
    if (!before || plannedAt === null) throw new Refusal("There is no plan before this one.");
    const why = whyNot(delivery, before.plan);
    if (why !== null) throw new Refusal(`The plan before cannot be taken back: ${why}. Plan again.`);
    allotment.before = { plan, plannedAt, figures };
    allotment.plan = before.plan;
    allotment.plannedAt = before.plannedAt;
    allotment.figures = before.figures;
  });
  return viewMatch(site, deliveryId);
};
