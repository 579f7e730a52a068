import { describe, expect, test } from "vitest";
import { clockWatch } from "../../../server/store/clock-watch.ts";
import { openStore } from "../../../server/store/store.ts";
import { by } from "../../support/small-delivery.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";
import { writeDelivery, writtenId } from "../../support/written-delivery.ts";

const minute = 60_000;
const day = 24 * 60 * minute;
const start = Date.parse("2026-03-28T12:00:00Z");

/** A clock that can be set, and the time that really passed. */
const clock = () => {
  const at = { clock: start, elapsed: 0 };
  return {
    now: () => new Date(at.clock).toISOString(),
    elapsed: () => at.elapsed,
    pass: (ms: number) => {
      at.clock += ms;
      at.elapsed += ms;
    },
    set: (to: number) => {
      at.clock = to;
    },
  };
};

describe("A8: a clock that jumps", () => {
  const jumps = [
    ["back a day", start - day, /was set back/],
    ["back to 1970", 0, /was set back/],
    ["on by ten years", start + 3653 * day, /more than a year after the last entry/],
    ["on by a day, as after a sleep", start + day, null],
    ["by a minute, as time servers do", start - minute, null],
  ] as const;

  test.each(jumps)("%s: order and chain hold, and what must be told is told", async (_, to, told) => {
    const { now, elapsed, pass, set } = clock();
    const folder = await temporaryFolder();
    await writeDelivery(folder, 0);
    const store = await openStore(folder, now, { elapsed });
    const delivery = store.open(writtenId);
    const count = (counted: number) =>
      delivery.change(by, `Counted ${counted}`, (draft) => {
        const line = draft.lines[0];
        if (line) line.counted = counted;
      });
    await count(1);
    expect(store.health().clock).toBeNull();
    set(to);
    await count(2);
    pass(5 * minute);
    await count(3);
    if (told) expect(store.health().clock).toMatch(told);
    else expect(store.health().clock).toBeNull();
    const instants = delivery.history().map(({ at }) => at);
    expect(instants.slice(2)).toEqual([new Date(to).toISOString(), new Date(to + 5 * minute).toISOString()]);
    expect((await delivery.verify()).faults).toEqual([]);
    await store.close();
    const again = await openStore(folder, now, { elapsed });
    expect(again.open(writtenId).read().lines[0]?.counted).toBe(3);
    await again.close();
  });

  test("set back while nothing is entered, and set right again: told until it is right", () => {
    const { now, elapsed, pass, set } = clock();
    const watch = clockWatch(now, elapsed);
    pass(10 * minute);
    set(start - day);
    expect(watch.told()).toMatch(/was set back/);
    set(start + 11 * minute);
    expect(watch.told()).toBeNull();
  });

  test("behind the last entry at the start: told until the next start after it is right", () => {
    const { now, elapsed } = clock();
    const watch = clockWatch(now, elapsed);
    watch.saw(new Date(start + day).toISOString());
    expect(watch.told()).toMatch(/was set back/);
  });

  test("an hour of summer time is no jump: instants carry their offset", () => {
    const { now, elapsed, pass } = clock();
    const watch = clockWatch(now, elapsed);
    pass(12 * 60 * minute + 58 * minute);
    watch.saw("2026-03-29T00:58:00+00:00");
    pass(5 * minute);
    watch.saw("2026-03-29T02:03:00+01:00");
    expect(watch.told()).toBeNull();
  });
});
