import type { Reply } from "../contract/calls.ts";
import type { Site } from "../site.ts";

/** Takes the best plan so far: the call that planned answers with it. */
export const stopPlanning = (site: Site, deliveryId: string): Reply<"stopPlanning"> => {
  const { id } = site.store.open(deliveryId);
  return { stopped: site.planning.stop(id) };
};
