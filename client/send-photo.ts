import type { Reply } from "../server/contract/calls.ts";
import { address, send } from "./api.ts";
import type { KeptPhoto, Sent } from "./upload-queue.ts";

/** Sends a photo with what is known about it. Too busy or broken for the moment counts as unreachable: it waits. */
export const sendPhoto = async (photo: KeptPhoto): Promise<Sent> => {
  const body = new FormData();
  body.set("about", JSON.stringify(photo.about));
  body.set("photo", photo.file, photo.about.name);
  const outcome = await send<Reply<"uploadPhoto">>(address("uploadPhoto", { delivery: photo.delivery }), {
    method: "POST",
    body,
  });
  if (outcome.kind === "ok") return { kind: "received", sha256: outcome.value.id };
  if (outcome.kind === "unreachable" || outcome.problem.status >= 500 || outcome.problem.status === 429)
    return { kind: "unreachable" };
  return { kind: "refused", says: outcome.problem.detail };
};
