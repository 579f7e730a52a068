import { layoutFault } from "../../analysis/joints/layout-fault.ts";
import type { Body, Reply } from "../contract/calls.ts";
import { Refusal } from "../problem.ts";
import type { Site } from "../site.ts";
import { patternOf } from "./delivery-parts.ts";

/** Lays the parts of a pattern where their joints are seen, for all leaves made by it; their photos are measured anew. */
export const setJoints = async (
  site: Site,
  deliveryId: string,
  id: string,
  { by, parts }: Body<"setJoints">,
): Promise<Reply<"setJoints">> => {
  const store = site.store.open(deliveryId);
  const { name } = patternOf(store.read(), id);
  const { seq } = await store.change(by, `Set the joints of ${name}`, (delivery) => {
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
  });
  site.measuring.wake(deliveryId);
  return { seq };
};
