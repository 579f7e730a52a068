import type { Delivery } from "../contract/delivery.ts";
import { publicHolidays } from "../public-holidays.ts";
import type { Calendar } from "../rules/claim-window.ts";

/** How days are counted for a delivery: its zone, the supplier's closing time, public holidays and closed days of three years. */
export const calendarOf = ({ job, terms }: Pick<Delivery, "job" | "terms">): Calendar => {
  const year = Number(job.deliveredAt.slice(0, 4));
  return {
    timeZone: job.timeZone,
    dayEndsAt: terms.dayEndsAt,
    closed: new Set([...publicHolidays(terms.holidays, [year, year + 1, year + 2]), ...terms.closedDays]),
  };
};
