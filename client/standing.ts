import type { State } from "../server/contract/access.ts";
import { address, call, type Outcome } from "./api.ts";
import type { Desk } from "./desk.ts";
import { forgetName, rememberedName } from "./who.ts";

const statePath = address("state", {});

/** How long the page waits for a bad signal before it stands as it did last, ms. */
const patienceMs = 3000;

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

/** With no signal, or a bad one, what was said last holds until the laptop answers. */
const standAsLast = async (desk: Desk): Promise<void> => {
  const last = await desk.kept.find(statePath);
  if (desk.standing.value === "asking") standIn(desk, (last?.value as State | undefined) ?? null);
};

/** Asks how things stand; on the laptop itself a session begins without asking. */
const askState = async (): Promise<Outcome<State>> => {
  const answer = await call("state", {});
  if (answer.kind !== "refused" || answer.problem.status !== 401) return answer;
  const begun = await call("beginHere", {});
  return begun.kind === "ok" ? call("state", {}) : begun;
};

/** Learns who is in and how things stand; a device that is not let in stands out. */
export const learnState = async (desk: Desk): Promise<void> => {
  const patience = setTimeout(() => void standAsLast(desk), patienceMs);
  const answer = await askState();
  clearTimeout(patience);
  if (answer.kind === "ok") {
    const state = await named(answer.value);
    standIn(desk, state);
    await desk.kept.keep(statePath, state);
  } else if (answer.kind === "refused" && answer.problem.status === 401) await standOut(desk);
  else await standAsLast(desk);
};

/**
 * Ends the session of this device and forgets who had it; photos that wait stay. On the laptop itself one without a name begins.
 * False when the laptop cannot be reached: the device is still in.
 */
export const signOut = async (desk: Desk): Promise<boolean> => {
  if ((await call("signOut", {})).kind === "unreachable") return false;
  forgetName(localStorage);
  await standOut(desk);
  await learnState(desk);
  return true;
};
