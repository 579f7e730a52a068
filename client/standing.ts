import type { State } from "../server/contract/access.ts";
import { address, call } from "./api.ts";
import type { Desk } from "./desk.ts";
import { rememberedName } from "./who.ts";

const statePath = address("state", {});

/** This device is not let in, or not any more: nothing of the ledger stays on it but photos that were not sent yet. */
export const standOut = async (desk: Desk): Promise<void> => {
  desk.standing.value = "out";
  desk.state.value = null;
  desk.who.value = null;
  await desk.kept.clear();
};

const standIn = (desk: Desk, state: State | null): void => {
  const session = state?.session;
  desk.state.value = state;
  desk.who.value = session?.name ? { name: session.name, device: session.device } : null;
  desk.standing.value = "in";
};

/** A session that has no name yet takes the one that was last given on this device. */
const named = async (state: State): Promise<State> => {
  const name = state.session.name === null ? rememberedName(localStorage) : null;
  const session = name === null ? null : await call("nameSession", {}, { name });
  return session?.kind === "ok" ? { ...state, session: session.value } : state;
};

/**
 * Learns who is in and how things stand. On the laptop itself a session begins without asking; with no signal what was said last
 * holds; any other device that is not let in stands out.
 */
export const learnState = async (desk: Desk): Promise<void> => {
  let answer = await call("state", {});
  if (answer.kind === "refused" && answer.problem.status === 401) {
    const begun = await call("beginHere", {});
    if (begun.kind === "refused") return standOut(desk);
    if (begun.kind === "ok") answer = await call("state", {});
  }
  if (answer.kind === "ok") {
    const state = await named(answer.value);
    standIn(desk, state);
    await desk.kept.keep(statePath, state);
  } else if (desk.standing.value === "asking") {
    const last = await desk.kept.find(statePath);
    standIn(desk, (last?.value as State | undefined) ?? null);
  }
};

/** Ends the session of this device. Photos that wait stay on it. */
export const signOut = async (desk: Desk): Promise<void> => {
  await call("signOut", {});
  await standOut(desk);
};
