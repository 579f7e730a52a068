import type { Reply } from "../server/contract/calls.ts";
import { address } from "./api.ts";
import type { KeptPhoto, Sent } from "./upload-queue.ts";

const tus = { "tus-resumable": "1.0.0", "x-leafledger": "1" };

const unreachable: Sent = { kind: "unreachable" };

/** What an answer that is no "yes" means for a photo: to wait a while, to wait for a signal or a session, or to be looked at by a person. */
const meaningOf = async (answer: Response): Promise<Sent> => {
  const seconds = Number(answer.headers.get("retry-after"));
  if (seconds > 0) return { kind: "busy", seconds };
  if (answer.status >= 500 || answer.status === 401 || answer.status === 429) return unreachable;
  const problem = await answer.json().catch(() => null);
  return { kind: "refused", says: problem?.detail ?? `The laptop answered ${answer.status}. Send the photo again.` };
};

/** One request of tus 1.0 (tus.io) about a photo in parts; null when the connection broke. */
const ask = (path: string, method: string, headers: Record<string, string> = {}, body?: Blob) =>
  fetch(path, { method, headers: { ...tus, ...headers }, ...(body && { body }) }).catch(() => null);

/** How many bytes the laptop has; a photo that it does not know is begun. */
const arrived = async (path: string, { size }: Blob): Promise<number | Sent> => {
  const told = await ask(path, "HEAD");
  if (!told) return unreachable;
  if (told.ok && Number(told.headers.get("upload-length")) === size) return Number(told.headers.get("upload-offset"));
  if (!told.ok && told.status !== 404) return meaningOf(told);
  const begun = await ask(path, "POST", { "upload-length": String(size) });
  if (!begun) return unreachable;
  return begun.ok ? 0 : meaningOf(begun);
};

/** Sends what is missing, as often as the connection breaks, as long as each try gets further. Null when all is there. */
const sendBytes = async (path: string, file: Blob): Promise<Sent | null> => {
  for (let before = -1; ; ) {
    const offset = await arrived(path, file);
    if (typeof offset !== "number") return offset;
    if (offset === file.size) return null;
    if (offset <= before) return unreachable;
    before = offset;
    const headers = { "content-type": "application/offset+octet-stream", "upload-offset": String(offset) };
    const answer = await ask(path, "PATCH", headers, file.slice(offset));
    if (answer && !answer.ok && answer.status !== 409) return meaningOf(answer);
  }
};

/**
 * Sends a photo: its bytes from where the last try ended, then what is known about it. The laptop answers with the hash of what it
 * holds. Too busy or broken for the moment counts as unreachable: the photo waits.
 */
export const sendPhoto = async ({ delivery, about, file }: KeptPhoto): Promise<Sent> => {
  const bytesAt = address("uploadPart", { delivery, photo: about.sha256 });
  const missing = await sendBytes(bytesAt, file);
  if (missing) return missing;
  // A photo kept by an earlier version still says who took it; the session says so now.
  const body = JSON.stringify({ ...about, by: undefined });
  const headers = { "content-type": "application/json", "x-leafledger": "1" };
  const path = address("uploadPhoto", { delivery });
  const answer = await fetch(path, { method: "POST", headers, body }).catch(() => null);
  if (!answer) return unreachable;
  // A laptop that was started anew in between has none of the bytes any more.
  if (answer.status === 409 && (await arrived(bytesAt, file)) !== file.size) return unreachable;
  if (!answer.ok) return meaningOf(answer);
  return { kind: "received", sha256: ((await answer.json()) as Reply<"uploadPhoto">).id };
};
