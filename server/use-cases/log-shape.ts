import type { Reply, Signed } from "../contract/calls.ts";
import type { Site } from "../site.ts";
import { leafOf } from "./delivery-parts.ts";

/** Adds a reading of bow, twist or cup. Earlier ones stay: a leaf moves with the air. */
export const logShape = async (
  site: Site,
  deliveryId: string,
  code: string,
  { by, reading }: Signed<"logShape">,
): Promise<Reply<"logShape">> => {
  const what = `${code}: ${reading.kind} ${reading.mm} mm`;
  const { seq } = await site.store.open(deliveryId).change(by, what, (delivery) => {
    leafOf(delivery, code).shape.push({ id: site.newId(), ...reading, by: by.name });
  });
  return { seq };
};
