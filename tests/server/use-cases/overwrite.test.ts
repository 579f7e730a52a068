import { afterEach, beforeEach, describe, expect, test } from "vitest";
import type { Problem } from "../../../server/contract/calls.ts";
import { type Api, apiOf } from "../../support/http.ts";
import { type TestSite, testSite } from "../../support/test-site.ts";

let site: TestSite;
let foreman: Api;
let hand: Api;
let delivery: string;
const at = { line: "L1" };

beforeEach(async () => {
  site = await testSite();
  foreman = apiOf(site);
  hand = foreman.as("hand");
  delivery = await foreman.begin();
});
afterEach(() => site.remove());

const head = (): number => site.store.open(delivery).head().seq;
const counted = () => site.store.open(delivery).read().lines[0]?.counted;
const count = (who: Api, seen: number | undefined, counted: number | null) =>
  who.call("countLine", { delivery, ...at }, { ...(seen !== undefined && { seen }), counted });
const settle = (who: Api, conflict: string, take: string) =>
  who.call("settleConflict", { delivery, conflict }, { take });

/** A page that read before the other one entered 4 enters 3. */
const clash = async (): Promise<NonNullable<Problem["conflict"]>> => {
  const seen = head();
  await count(foreman, seen, 4).expect(200);
  const { body } = await count(hand, seen, 3).expect(409);
  return (body as Problem).conflict!;
};

describe("an entry over another's later one", () => {
  test("is refused with both shown, and both are kept", async () => {
    const conflict = await clash();
    expect(conflict).toMatchObject({
      what: "the count of line L1",
      leaf: null,
      theirs: { says: "4 leaves", by: "R. Tester", device: "laptop" },
      yours: { says: "3 leaves", by: "H. Tester", device: "phone" },
    });
    expect(counted()).toBe(4);
    const { body } = await hand.call("overview", { delivery }).expect(200);
    expect(body.conflicts).toEqual([conflict]);
    expect(site.store.open(delivery).history().at(-1)?.what).toBe("Set aside: Counted 3 on line L1");
  });

  test("sent again is the same conflict, not another", async () => {
    const conflict = await clash();
    const { body } = await count(hand, 1, 3).expect(409);
    expect(body.conflict.id).toBe(conflict.id);
    expect(site.store.open(delivery).read().conflicts.length).toBe(1);
  });

  test("is none with the same value, on something else, over one's own, or where it is as it was read", async () => {
    const seen = head();
    await count(foreman, seen, 4).expect(200);
    await count(hand, seen, 4).expect(200);
    await hand.call("countLine", { delivery, line: "L2" }, { seen, counted: 2 }).expect(200);
    await count(foreman, seen, 5).expect(200);
    const { seq } = (await count(foreman, seen, 6).expect(200)).body;
    await foreman.call("undo", { delivery }, { seq }).expect(200);
    await count(hand, seq - 1, 7).expect(200);
    expect(counted()).toBe(7);
    expect(site.store.open(delivery).read().conflicts).toEqual([]);
  });

  test("a page that is thousands of changes old is asked to load anew", async () => {
    const seen = head();
    const store = site.store.open(delivery);
    const who = { name: "B. Tester", device: "phone 3" };
    const counts = Array.from({ length: 2001 }, (_, counted) =>
      store.change(who, "Counted", ({ lines }) => {
        lines[0]!.counted = counted;
      }),
    );
    await Promise.all(counts);
    expect((await count(hand, seen, 3).expect(409)).body.detail).toMatch(/load it again/);
    expect((await count(hand, seen + 1, 3).expect(409)).body.conflict.theirs.by).toBe("B. Tester");
  });

  test("a program that says nothing of what it read writes over what is there", async () => {
    await count(foreman, head(), 4).expect(200);
    await count(hand, undefined, 3).expect(200);
    expect(counted()).toBe(3);
  });
});

describe("settling", () => {
  test("as theirs leaves it, as yours enters what was set aside; each once", async () => {
    const first = await clash();
    await settle(hand, first.id, "theirs").expect(200);
    expect(counted()).toBe(4);
    await settle(hand, first.id, "yours").expect(409);
    await count(foreman, head(), null).expect(200);
    const second = await clash();
    await settle(hand, second.id, "yours").expect(200);
    expect(counted()).toBe(3);
    expect((await hand.call("overview", { delivery })).body.conflicts).toEqual([]);
    expect(site.store.open(delivery).history().at(-1)?.what).toBe(
      "Settled the count of line L1: as H. Tester entered it",
    );
    await settle(hand, "01J00000000000000000000000", "yours").expect(404);
  });

  test("goes by the rules as they stand now, and what only a foreman may enter a hand may not settle", async () => {
    await foreman.leaf(delivery, "W01", "L1", "FL-2040X826");
    const seen = head();
    const decision = { outcome: "accept", reason: "", allowance: null, party: null, asks: null };
    await foreman
      .call(
        "decideLeaf",
        { delivery, leaf: "W01" },
        { seen, decision: { ...decision, outcome: "hold", reason: "a dent" } },
      )
      .expect(200);
    // Somebody else at the same laptop, whose page read before.
    await foreman.call("nameSession", {}, { name: "B. Tester" }).expect(200);
    const { body } = await foreman.call("decideLeaf", { delivery, leaf: "W01" }, { seen, decision }).expect(409);
    expect(body.conflict).toMatchObject({ what: "the decision on W01", leaf: "W01", theirs: { says: "hold: a dent" } });
    const view = (await hand.call("leaf", { delivery, leaf: "W01" })).body;
    expect(view.conflicts).toEqual([body.conflict]);
    await settle(hand, body.conflict.id, "yours").expect(403);
    await foreman.call("identifyLeaf", { delivery, leaf: "W01" }, { identity: "wrong" }).expect(200);
    await settle(foreman, body.conflict.id, "yours").expect(409);
    expect(site.store.open(delivery).read().conflicts[0]?.settled).toBeNull();
    await settle(foreman, body.conflict.id, "theirs").expect(200);
  });
});

describe("unwrapping", () => {
  const unwrap = (who: Api, time: string, seen?: number) =>
    who.call(
      "unwrapLeaf",
      { delivery, leaf: "W01" },
      { at: `2026-03-03T${time}:00+00:00`, ...(seen !== undefined && { seen }) },
    );
  beforeEach(async () => {
    const leaf = { code: "W01", line: "L1", pattern: "FL-2040X826", identity: "as-ordered", replaces: null };
    await foreman.call("addLeaf", { delivery }, { leaf }).expect(200);
  });

  test("later than now is refused, a clock five minutes ahead is not", async () => {
    expect((await unwrap(hand, "12:06").expect(422)).body.detail).toMatch(/cannot be unwrapped later than now/);
    await unwrap(hand, "12:04").expect(200);
  });

  test("two who entered it are both kept, and the time is never moved to a later one", async () => {
    const seen = head();
    await unwrap(foreman, "11:05", seen).expect(200);
    const { body } = await unwrap(hand, "11:00", seen).expect(409);
    expect((await unwrap(hand, "11:10", head()).expect(409)).body.conflict).toBeUndefined();
    await settle(hand, body.conflict.id, "yours").expect(200);
    expect(site.store.open(delivery).read().leaves[0]?.unwrappedAt).toBe("2026-03-03T11:00:00+00:00");
  });
});
