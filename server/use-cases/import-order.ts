import type { Reply, Signed } from "../contract/calls.ts";
import { Refusal } from "../problem.ts";
import type { Site } from "../site.ts";
import { orderIn } from "./read-files.ts";

/** Takes a corrected order. What was counted stays; a line that has leaves may not go. Refused with every fault of the file named. */
export const importOrder = async (
  site: Site,
  deliveryId: string,
  { by, csv }: Signed<"importOrder">,
): Promise<Reply<"importOrder">> => {
  const { lines, patterns } = await orderIn(site, csv);
  const { seq } = await site.store
    .open(deliveryId)
    .change(by, `Took in an order of ${lines.length} lines`, (delivery) => {
      const kept = new Set(lines.map(({ id }) => id));
      const lost = delivery.leaves.find(({ line }) => line !== null && !kept.has(line));
      if (lost) throw new Refusal(`The new order has no line ${lost.line}, which leaf ${lost.code} belongs to.`, 422);
      const counted = new Map(delivery.lines.map((line) => [line.id, line.counted]));
      delivery.lines = lines.map((line) => ({ ...line, counted: counted.get(line.id) ?? null }));
      const known = new Set(delivery.patterns.map(({ id }) => id));
      delivery.patterns.push(...patterns.filter(({ id }) => !known.has(id)));
    });
  return { seq };
};
