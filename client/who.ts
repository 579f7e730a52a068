import type { Actor } from "../server/contract/ids.ts";

const key = "leafledger.who";

/** Who enters on this device, or null before the name was given. */
export const readWho = (storage: Storage): Actor | null => {
  const kept = storage.getItem(key);
  return kept ? JSON.parse(kept) : null;
};

export const keepWho = (storage: Storage, who: Actor): void => storage.setItem(key, JSON.stringify(who));
