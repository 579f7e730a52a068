import { signal } from "@preact/signals";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import type { Desk } from "../../client/desk.ts";
import { learnState, signOut } from "../../client/standing.ts";
import type { State } from "../../server/contract/access.ts";

const session = { id: "01J8Z3W5X6Y7Z8A9B0C1D2E3F4", name: "Lee Marsh", device: "phone", record: null, delivery: null };
const state: State = {
  session: { ...session, role: "hand" },
  readOnly: null,
  disk: "Little room is left.",
  insecure: null,
  clock: null,
};

const deskOf = (kept: Map<string, unknown> = new Map()) =>
  ({
    standing: signal("asking"),
    state: signal(null),
    who: signal(null),
    kept: {
      keep: async (path: string, value: unknown) => void kept.set(path, value),
      find: async (path: string) => (kept.has(path) ? { at: "", value: kept.get(path) } : null),
      clear: async () => kept.clear(),
    },
  }) as unknown as Desk;

/** Answers each path with a status and a body; a path that is not named never answers. */
const laptop = (answers: Record<string, [status: number, body: unknown]>) =>
  vi.stubGlobal("fetch", (path: string) => {
    const [status, body] = answers[path] ?? [];
    return status
      ? Promise.resolve(Response.json({ status, ...(body as object) }, { status }))
      : new Promise(() => undefined);
  });

const out = [401, { detail: "This device is not let in." }] as [number, unknown];

beforeEach(() => {
  const shelf = new Map<string, string>();
  vi.stubGlobal("localStorage", {
    getItem: (key: string) => shelf.get(key) ?? null,
    setItem: (key: string, value: string) => shelf.set(key, value),
    removeItem: (key: string) => shelf.delete(key),
  });
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

test("who is let in stands in, and the state is kept for when there is no signal", async () => {
  const kept = new Map<string, unknown>();
  laptop({ "/api/v1/state": [200, state] });
  const desk = deskOf(kept);
  await learnState(desk);
  expect([desk.standing.value, desk.who.value, desk.state.value?.disk]).toEqual([
    "in",
    { name: "Lee Marsh", device: "phone" },
    "Little room is left.",
  ]);
  expect(kept.get("/api/v1/state")).toMatchObject(state);
});

test("who is not let in stands out, and nothing of the ledger stays on the device", async () => {
  const kept = new Map<string, unknown>([["/api/v1/deliveries", []]]);
  laptop({ "/api/v1/state": out, "/api/v1/session/laptop": out });
  const desk = deskOf(kept);
  await learnState(desk);
  expect([desk.standing.value, desk.who.value, kept.size]).toEqual(["out", null, 0]);
});

test("a signal so bad that no answer comes shows what was said last after three seconds", async () => {
  laptop({});
  const desk = deskOf(new Map([["/api/v1/state", state]]));
  void learnState(desk);
  await vi.advanceTimersByTimeAsync(2900);
  expect(desk.standing.value).toBe("asking");
  await vi.advanceTimersByTimeAsync(200);
  expect([desk.standing.value, desk.who.value?.name]).toEqual(["in", "Lee Marsh"]);
});

test("a laptop that answers with a fault does not shut the page", async () => {
  laptop({ "/api/v1/state": [503, { detail: "Too much at once." }] });
  const desk = deskOf(new Map([["/api/v1/state", state]]));
  await learnState(desk);
  expect(desk.standing.value).toBe("in");
});

test("signed out, the device forgets who had it; where the laptop cannot be reached it says so and stays in", async () => {
  localStorage.setItem("leafledger.who", JSON.stringify({ name: "Lee Marsh" }));
  laptop({ "/api/v1/session/end": [200, {}], "/api/v1/state": out, "/api/v1/session/laptop": out });
  const desk = deskOf();
  expect(await signOut(desk)).toBe(true);
  expect([desk.standing.value, localStorage.getItem("leafledger.who")]).toEqual(["out", null]);
  vi.stubGlobal("fetch", () => Promise.reject(new TypeError("no signal")));
  expect(await signOut(deskOf())).toBe(false);
});
