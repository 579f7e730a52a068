import type { Reply, Signed } from "../contract/calls.ts";
import type { Site } from "../site.ts";
import { leafOf } from "./delivery-parts.ts";

/** Says that a place which a photo proposed is no mark; taken back, it is proposed again. */
export const waveOff = async (
  site: Site,
  deliveryId: string,
  code: string,
  { by, face, box }: Signed<"waveOff">,
): Promise<Reply<"waveOff">> => {
  const what = `${code} face ${face}: a place the photo proposed is no mark`;
  const { seq } = await site.store.open(deliveryId).change(by, what, (delivery) => {
    leafOf(delivery, code);
    delivery.wavedOff ??= [];
    delivery.wavedOff.push({ leaf: code, face, box });
  });
  return { seq };
};
