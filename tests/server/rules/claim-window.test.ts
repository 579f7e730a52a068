import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { publicHolidays } from "../../../server/public-holidays.ts";
import { type Calendar, claimWindow, claimWindows } from "../../../server/rules/claim-window.ts";
import { bankHolidays, windowCases } from "../../published/claim-windows.ts";
import { isoWeekDates } from "../../published/iso-weeks.ts";
import { someTerms } from "../../support/small-delivery.ts";

const england: Calendar = { timeZone: "Europe/London", dayEndsAt: "17:00", closed: new Set(bankHolidays) };
const term = { kind: "damage", to: "supplier", from: "delivery" } as const;
const now = "2026-03-03T12:00:00+00:00";

describe("published cases", () => {
  test.each(windowCases)("$what", ({ opensAt, term: { amount, unit }, deadline }) => {
    expect(claimWindow({ ...term, amount, unit }, opensAt, england, now).deadline).toBe(deadline);
  });

  test("bank holidays of England come from the library as published", () => {
    const weekdays = publicHolidays("GB-ENG", [2026, 2027]).filter(
      (day) => ![0, 6].includes(new Date(day).getUTCDay()),
    );
    expect(weekdays).toEqual([...bankHolidays]);
  });

  test.each(isoWeekDates)("%s is a working day when its ISO weekday is 1 to 5", (date, _year, _week, weekday) => {
    const before = new Date(Date.parse(date) - 86_400_000).toISOString();
    const utc: Calendar = { timeZone: "UTC", dayEndsAt: "17:00", closed: new Set() };
    const { deadline } = claimWindow({ ...term, amount: 1, unit: "working-days" }, before, utc, now);
    expect(deadline.startsWith(date)).toBe(weekday <= 5);
  });
});

describe("a window", () => {
  test("names the closed days it passed over, and how it was counted", () => {
    const { counted } = claimWindow(
      { ...term, amount: 3, unit: "working-days" },
      "2026-04-02T10:00:00+01:00",
      england,
      now,
    );
    expect(counted).toBe(
      "3 working days after the delivery on Thu 2 Apr, not counting Fri 3 Apr, Mon 6 Apr, to 17:00 Europe/London",
    );
  });

  test("is shut from its deadline on, not before", () => {
    const at = (time: string) => claimWindow({ ...term, amount: 1, unit: "hours" }, now, england, time);
    expect(at("2026-03-03T12:59:59+00:00")).toMatchObject({ shut: false });
    expect(at("2026-03-03T13:00:00+00:00")).toMatchObject({ shut: true, hoursLeft: 0 });
    expect(at("2026-03-03T12:30:00+00:00").hoursLeft).toBe(0.5);
  });

  test("counted from unwrapping waits until something is unwrapped", () => {
    const terms = { ...someTerms, windows: [{ ...term, from: "unwrapping", amount: 1, unit: "hours" } as const] };
    expect(claimWindows(terms, { deliveredAt: now, unwrappedAt: null }, england, now)).toEqual([]);
    const [window] = claimWindows(terms, { deliveredAt: now, unwrappedAt: "2026-03-04T08:00:00+00:00" }, england, now);
    expect(window?.deadline).toBe("2026-03-04T09:00:00+00:00");
  });

  test("one more day never ends earlier, and working days never before calendar days", () => {
    const instant = fc.date({ min: new Date("2026-01-01"), max: new Date("2027-06-30"), noInvalidDate: true });
    fc.assert(
      fc.property(instant, fc.integer({ min: 1, max: 30 }), (opens, amount) => {
        const end = (unit: "working-days" | "calendar-days", days: number) =>
          Date.parse(claimWindow({ ...term, amount: days, unit }, opens.toISOString(), england, now).deadline);
        expect(end("working-days", amount + 1)).toBeGreaterThan(end("working-days", amount));
        expect(end("working-days", amount)).toBeGreaterThanOrEqual(end("calendar-days", amount));
      }),
      { seed: 11, numRuns: 200 },
    );
  });
});
