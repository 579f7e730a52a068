import { Temporal } from "temporal-polyfill";
import type { SupplierTerms, WindowTerm } from "../contract/terms.ts";
import type { ClaimWindow } from "../contract/views.ts";

/** Where and when days are counted: `closed` are ISO dates on which nobody works, beside Saturdays and Sundays. */
export interface Calendar {
  readonly timeZone: string;
  readonly dayEndsAt: string;
  readonly closed: ReadonlySet<string>;
}

const dayInWords = new Intl.DateTimeFormat("en-GB", {
  weekday: "short",
  day: "numeric",
  month: "short",
  timeZone: "UTC",
});

const inWords = (date: Temporal.PlainDate): string => dayInWords.format(Date.UTC(date.year, date.month - 1, date.day));

const isWorkingDay = (date: Temporal.PlainDate, closed: ReadonlySet<string>): boolean =>
  date.dayOfWeek <= 5 && !closed.has(date.toString());

/** Counts days after a date; the day itself is not one of them. `left` are the weekdays that were passed over. */
const daysAfter = (
  start: Temporal.PlainDate,
  amount: number,
  counts: (date: Temporal.PlainDate) => boolean,
): { readonly last: Temporal.PlainDate; readonly left: Temporal.PlainDate[] } => {
  const left: Temporal.PlainDate[] = [];
  let date = start;
  for (let counted = 0; counted < amount; ) {
    date = date.add({ days: 1 });
    if (counts(date)) counted++;
    else if (date.dayOfWeek <= 5) left.push(date);
  }
  return { last: date, left };
};

const countedInDays = (
  term: WindowTerm,
  opened: Temporal.ZonedDateTime,
  calendar: Calendar,
): { readonly deadline: Temporal.ZonedDateTime; readonly counted: string } => {
  const working = term.unit === "working-days";
  const { last, left } = daysAfter(opened.toPlainDate(), term.amount, (date) =>
    working ? isWorkingDay(date, calendar.closed) : true,
  );
  const deadline = last.toZonedDateTime({ timeZone: calendar.timeZone, plainTime: calendar.dayEndsAt });
  const days = `${term.amount} ${working ? "working" : "calendar"} ${term.amount === 1 ? "day" : "days"}`;
  const closed = left.length > 0 ? `, not counting ${left.map(inWords).join(", ")}` : "";
  return {
    deadline,
    counted: `${days} after the ${term.from} on ${inWords(opened.toPlainDate())}${closed}, to ${calendar.dayEndsAt} ${calendar.timeZone}`,
  };
};

const countedInHours = (
  term: WindowTerm,
  opened: Temporal.ZonedDateTime,
): { readonly deadline: Temporal.ZonedDateTime; readonly counted: string } => ({
  deadline: opened.add({ hours: term.amount }),
  counted: `${term.amount} hours after the ${term.from} on ${inWords(opened.toPlainDate())} ${opened.toPlainTime().toString({ smallestUnit: "minute" })}`,
});

const written = (time: Temporal.ZonedDateTime): string =>
  time.toString({ timeZoneName: "never", smallestUnit: "second" });

/**
 * When one window shuts. Hours are elapsed hours, over a clock change too. Days begin with the day after and end at
 * the terms' time of day where the job is. A window is shut from the deadline on. Wording of the terms decides;
 * counting so is common practice, no source. Published cases: tests/published/claim-windows.ts.
 */
export const claimWindow = (term: WindowTerm, openedAt: string, calendar: Calendar, now: string): ClaimWindow => {
  const opened = Temporal.Instant.from(openedAt).toZonedDateTimeISO(calendar.timeZone);
  const { deadline, counted } =
    term.unit === "hours" ? countedInHours(term, opened) : countedInDays(term, opened, calendar);
  const left = deadline.epochMilliseconds - Temporal.Instant.from(now).epochMilliseconds;
  return {
    kind: term.kind,
    to: term.to,
    opensAt: openedAt,
    deadline: written(deadline),
    hoursLeft: Math.round(left / 36_000) / 100,
    shut: left <= 0,
    counted,
  };
};

/** The windows that have opened, in the order of their deadlines. Those from unwrapping wait until `unwrappedAt` is known. */
export const claimWindows = (
  terms: SupplierTerms,
  opened: { readonly deliveredAt: string; readonly unwrappedAt: string | null },
  calendar: Calendar,
  now: string,
): ClaimWindow[] =>
  terms.windows
    .flatMap((term) => {
      const openedAt = term.from === "delivery" ? opened.deliveredAt : opened.unwrappedAt;
      return openedAt === null ? [] : [claimWindow(term, openedAt, calendar, now)];
    })
    .sort((a, b) => Date.parse(a.deadline) - Date.parse(b.deadline));
