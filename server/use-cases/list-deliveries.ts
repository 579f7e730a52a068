import type { Reply } from "../contract/calls.ts";
import type { Site } from "../site.ts";

/** All deliveries that can be opened, the newest first. */
export const listDeliveries = ({ store }: Site): Reply<"listDeliveries"> =>
  store
    .list()
    .map((id) => store.open(id).read())
    .toSorted((a, b) => Date.parse(b.job.deliveredAt) - Date.parse(a.job.deliveredAt))
    .map(({ id, job, leaves }) => ({
      id,
      name: job.name,
      supplier: job.supplier,
      deliveredAt: job.deliveredAt,
      leaves: leaves.filter(({ line }) => line !== null).length,
    }));
