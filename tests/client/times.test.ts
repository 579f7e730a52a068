import { describe, expect, test } from "vitest";
import { dateAndTime, lastRead, nowWithOffset, timeLeft, urgency } from "../../client/times.ts";

describe("time left", () => {
  test.each([
    [315, "13 days 3 hours left"],
    [48, "2 days left"],
    [47.9, "47 hours left"],
    [1, "1 hour left"],
    [0.5, "30 minutes left"],
    [0.001, "1 minute left"],
    [-3, "shut 3 hours ago"],
    [-24 * 260 - 5, "shut 260 days ago"],
  ])("%d hours is %s", (hours, says) => {
    expect(timeLeft(hours)).toBe(says);
  });

  test("a window is pressing in its last day and shut at its very deadline", () => {
    expect([25, 24, 23.9, 0.1, 0, -1].map(urgency)).toEqual(["open", "open", "soon", "soon", "shut", "shut"]);
  });
});

test("a moment is told in the delivery's time zone, summer time too", () => {
  expect(dateAndTime("2026-03-06T17:00:00+00:00", "Europe/London")).toBe("Fri 6 Mar 2026, 17:00");
  expect(dateAndTime("2026-03-30T16:00:00Z", "Europe/London")).toBe("Mon 30 Mar 2026, 17:00");
});

test("this moment carries the device's offset and is the same moment", () => {
  const now = new Date("2026-03-30T16:00:00.000Z");
  for (const offset of [0, -60, 210, -330]) {
    const there = Object.assign(new Date(now), { getTimezoneOffset: () => offset });
    const text = nowWithOffset(there);
    expect(text).toMatch(/^2026-03-30T\d\d:\d\d:00[+-]\d\d:\d\d$/);
    expect(Date.parse(text)).toBe(now.getTime());
  }
});

test("what was read last is told by the clock on the same day, else with its day", () => {
  const now = new Date(2026, 2, 6, 10, 50);
  expect(lastRead(new Date(2026, 2, 6, 10, 42).toISOString(), now)).toBe("at 10:42");
  expect(lastRead(new Date(2026, 2, 5, 16, 5).toISOString(), now)).toMatch(/^on Thu 5 Mar,? 16:05$/);
});
