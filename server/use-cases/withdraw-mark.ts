import type { Reply, Signed } from "../contract/calls.ts";
import { Refusal } from "../problem.ts";
import type { Site } from "../site.ts";

/** Takes a mark out of what counts. It stays in the history. */
export const withdrawMark = async (
  site: Site,
  deliveryId: string,
  id: string,
  { by }: Signed<"withdrawMark">,
): Promise<Reply<"withdrawMark">> => {
  const { seq } = await site.store.open(deliveryId).change(by, "Withdrew a mark", (delivery) => {
    const mark = delivery.marks.find((one) => one.id === id);
    if (!mark) throw new Refusal("There is no such mark.", 404);
    mark.withdrawn = true;
  });
  return { seq };
};
