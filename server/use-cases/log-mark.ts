import type { Reply, Signed } from "../contract/calls.ts";
import { Refusal } from "../problem.ts";
import type { Site } from "../site.ts";
import { leafOf, patternOf, photoOf } from "./delivery-parts.ts";

/** Adds a mark that a person found or took over from what the photo proposes; its contrast is read off the best photo of the face. */
export const logMark = async (
  site: Site,
  deliveryId: string,
  code: string,
  { by, mark }: Signed<"logMark">,
): Promise<Reply<"logMark">> => {
  const store = site.store.open(deliveryId);
  const delivery = store.read();
  const { widthMm, heightMm } = patternOf(delivery, leafOf(delivery, code).pattern);
  const { x, y, w, h } = mark.box;
  const slackMm = 5;
  if (x < -slackMm || y < -slackMm || x + w > widthMm + slackMm || y + h > heightMm + slackMm)
    throw new Refusal(`The mark does not lie on the face, which is ${widthMm} x ${heightMm} mm.`, 422);
  if (mark.photo !== null) photoOf(delivery, mark.photo);
  const contrastDE00 = await site.measuring
    .measured(deliveryId)
    .markContrast({ leaf: code, face: mark.face }, mark.box);
  const id = site.newId();
  const what = `${code}, face ${mark.face}: ${mark.kind.replace("-", " ")}`;
  await store.change(by, what, (draft) => {
    leafOf(draft, code);
    draft.marks.push({ ...mark, id, leaf: code, contrastDE00, by: by.name, at: site.now(), withdrawn: false });
  });
  return { id };
};
