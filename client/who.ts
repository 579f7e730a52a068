import type { Actor } from "../server/contract/ids.ts";
import { call } from "./api.ts";

const key = "leafledger.who";

/** The name that was given on this device before there were sessions. */
const readWho = (storage: Storage): Actor | null => {
  const kept = storage.getItem(key);
  return kept ? JSON.parse(kept) : null;
};

const session = async () => {
  const state = await call("state", {});
  if (state.kind === "ok") return state.value.session;
  const begun = state.kind === "refused" && state.problem.status === 401 ? await call("beginHere", {}) : null;
  return begun?.kind === "ok" ? begun.value : null;
};

/** Who enters on this device, as its session knows it, or null before a name was given. On the laptop itself a session begins at once. */
export const whoIsHere = async (storage: Storage): Promise<Actor | null> => {
  const here = await session();
  if (!here) return null;
  if (here.name !== null) return { name: here.name, device: here.device };
  const before = readWho(storage);
  const named = before && (await call("nameSession", {}, { name: before.name }));
  return named?.kind === "ok" ? { name: named.value.name ?? "", device: named.value.device } : null;
};
