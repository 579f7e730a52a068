import type { Reply, Signed } from "../contract/calls.ts";
import { Refusal } from "../problem.ts";
import { leafLeftBehind } from "../rules/leaf-left-behind.ts";
import { mayTakeBack } from "../rules/may-take-back.ts";
import type { Site } from "../site.ts";

/**
 * Takes one change back by a new one; refused when later changes rest on it or still name a leaf that would go.
 */
export const undoChange = async (
  site: Site,
  deliveryId: string,
  { by, seq }: Signed<"undo">,
): Promise<Reply<"undo">> => {
  const store = site.store.open(deliveryId);
  const line = store.history().find((one) => one.seq === seq);
  if (line && !mayTakeBack(line, by))
    throw new Refusal(`${line.actor} entered this: only they or the foreman may take it back.`, 403);
  const undone = await store.undo(by, seq, leafLeftBehind);
  site.measuring.wake(deliveryId);
  return undone;
};
