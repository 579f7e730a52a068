import { type Signal, signal } from "@preact/signals";
import type { Body } from "../server/contract/calls.ts";

/** A photo on this phone that the laptop has not confirmed yet. `id` is the delivery and the photo's SHA-256. */
export interface KeptPhoto {
  readonly id: string;
  readonly delivery: string;
  readonly about: Body<"uploadPhoto">;
  readonly file: Blob;
  readonly keptAt: string;
  readonly state:
    | { readonly kind: "kept" }
    | { readonly kind: "sending" }
    | { readonly kind: "refused"; readonly says: string };
}

/** Where photos lie until they are sent; what `put` resolved for is on the phone's disk. */
export interface PhotoShelf {
  all(): Promise<KeptPhoto[]>;
  put(photo: KeptPhoto): Promise<void>;
  remove(id: string): Promise<void>;
}

/** What came of one try: `sha256` is the hash of what the laptop holds. */
export type Sent =
  | { readonly kind: "received"; readonly sha256: string }
  | { readonly kind: "refused"; readonly says: string }
  | { readonly kind: "unreachable" }
  /** The laptop has no room at present and says when to come again. */
  | { readonly kind: "busy"; readonly seconds: number };

export interface UploadQueue {
  readonly photos: Signal<readonly KeptPhoto[]>;
  /** Puts a photo on the shelf, then tries to send it. Resolves once it is kept. */
  keep(photo: KeptPhoto): Promise<void>;
  /** Sends what waits, one after the other, until the laptop cannot be reached. Safe to call at any time. */
  sendWaiting(): Promise<void>;
  /** Puts a refused photo back among those that wait. */
  retry(id: string): Promise<void>;
  /** Throws a refused photo away. Only a person does this. */
  drop(id: string): Promise<void>;
}

/**
 * Photos wait on the phone until the laptop says that it holds the same bytes; only then is the copy here deleted.
 * A photo that was being sent when the page closed waits again. `received` is called after each photo that arrived.
 */
export const openUploadQueue = async (
  shelf: PhotoShelf,
  send: (photo: KeptPhoto) => Promise<Sent>,
  received: () => void,
): Promise<UploadQueue> => {
  const photos = signal<readonly KeptPhoto[]>([]);
  photos.value = (await shelf.all()).map((photo) =>
    photo.state.kind === "sending" ? { ...photo, state: { kind: "kept" } } : photo,
  );
  const set = async (photo: KeptPhoto) => {
    await shelf.put(photo);
    photos.value = [...photos.value.filter(({ id }) => id !== photo.id), photo].sort((a, b) =>
      a.keptAt < b.keptAt ? -1 : 1,
    );
  };
  const drop = async (id: string) => {
    await shelf.remove(id);
    photos.value = photos.value.filter((photo) => photo.id !== id);
  };
  const settle = async (photo: KeptPhoto, sent: Sent) => {
    if (sent.kind === "unreachable" || sent.kind === "busy") return set({ ...photo, state: { kind: "kept" } });
    if (sent.kind === "refused") return set({ ...photo, state: { kind: "refused", says: sent.says } });
    if (sent.sha256 !== photo.about.sha256)
      return set({
        ...photo,
        state: { kind: "refused", says: "The photo was damaged on the way. It is still here: send it again." },
      });
    await drop(photo.id);
    received();
  };
  let running: Promise<void> | null = null;
  const run = async () => {
    for (;;) {
      const photo = photos.value.find(({ state }) => state.kind === "kept");
      if (!photo) return;
      await set({ ...photo, state: { kind: "sending" } });
      const sent = await send(photo);
      await settle(photo, sent);
      if (sent.kind === "unreachable") return;
      if (sent.kind === "busy") {
        setTimeout(sendWaiting, sent.seconds * 1000);
        return;
      }
    }
  };
  const sendWaiting = () => {
    running ??= run().finally(() => {
      running = null;
    });
    return running;
  };
  const retry = async (id: string) => {
    const photo = photos.value.find((kept) => kept.id === id);
    if (photo?.state.kind === "refused") await set({ ...photo, state: { kind: "kept" } });
    void sendWaiting();
  };
  const keep = async (photo: KeptPhoto) => {
    await set(photo);
    void sendWaiting();
  };
  return { photos, keep, sendWaiting, retry, drop };
};
