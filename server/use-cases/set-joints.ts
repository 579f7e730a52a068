import { layoutFault } from "../../analysis/joints/layout-fault.ts";
import type { Reply, Signed } from "../contract/calls.ts";
import type { Delivery } from "../contract/delivery.ts";
import type { Pattern } from "../contract/leaf.ts";
import { Refusal } from "../problem.ts";
import type { Site } from "../site.ts";
import { patternOf } from "./delivery-parts.ts";
import { overwrite } from "./overwrite.ts";

type Place = Pick<Pattern["parts"][number], "name" | "rectMm">;

const placeOf = ({ name, rectMm }: Place): Place => ({ name, rectMm });

const placeWords = ({ name, rectMm }: Place): string => `${name} ${rectMm.join(" ")}`;

/** Lays the parts of a pattern where their joints are seen, for all leaves made by it; their photos are measured anew. */
export const setJoints = async (
  site: Site,
  deliveryId: string,
  id: string,
  body: Signed<"setJoints">,
): Promise<Reply<"setJoints">> => {
  const { by, parts } = body;
  const { name } = patternOf(site.store.open(deliveryId).read(), id);
  const what = `Set the joints of ${name}`;
  const thing = {
    what: `the joints of ${name}`,
    leaf: null,
    read: (delivery: Delivery) => patternOf(delivery, id).parts.map(placeOf),
    mine: parts.map(placeOf),
    says: (places: readonly Place[]) => places.map(placeWords).join("; "),
  };
  const set = await overwrite(
    site,
    deliveryId,
    { call: "setJoints", params: { pattern: id }, body },
    thing,
    what,
    (delivery) => {
      const pattern = patternOf(delivery, id);
      const laid = new Map(parts.map((part) => [part.name, part.rectMm]));
      if (laid.size !== parts.length || laid.size !== pattern.parts.length)
        throw new Refusal(`${name} has ${pattern.parts.length} parts: send each of them once.`, 422);
      for (const part of pattern.parts) {
        const rectMm = laid.get(part.name);
        if (!rectMm) throw new Refusal(`Where the ${part.name} of ${name} lies is missing: send it too.`, 422);
        part.rectMm = rectMm;
      }
      const fault = layoutFault(pattern);
      if (fault) throw new Refusal(fault, 422);
      pattern.jointsBy = by.name;
    },
  );
  site.measuring.wake(deliveryId);
  return set;
};
