import { Refusal } from "../problem.ts";
import type { Site } from "../site.ts";

/** Labels of all leaves of a delivery as a PDF, with the openings of the present plan. */
export const printLabels = (site: Site, deliveryId: string): Promise<Buffer> => {
  const { leaves, lines, allotment } = site.store.open(deliveryId).read();
  const ordered = leaves.filter(({ line }) => line !== null);
  if (ordered.length === 0) throw new Refusal("There is no leaf to label yet. Enter the leaves of the delivery first.");
  const labels = ordered.map(({ code, line, labelId }) => ({
    leaf: code,
    labelId: labelId ?? null,
    opening: allotment.plan.find(({ leaf }) => leaf === code)?.opening ?? null,
    item: lines.find(({ id }) => id === line)?.item ?? "",
  }));
  return site.print({ sheet: "labels", labels, date: site.now() });
};
