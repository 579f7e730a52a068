/**
 * Claim windows with known ends. Bank holidays of England as published by the government: Good Friday 3 April 2026, Easter Monday
 * 6 April 2026, substitute day 28 December 2026. Clocks in London went from 01:00 to 02:00 on 29 March 2026.
 */
export const windowCases = [
  {
    what: "three working days over Easter",
    opensAt: "2026-04-02T10:00:00+01:00",
    term: { amount: 3, unit: "working-days" },
    deadline: "2026-04-09T17:00:00+01:00",
  },
  {
    what: "48 hours over the change of clocks are 48 elapsed hours, an hour later by the clock",
    opensAt: "2026-03-28T10:00:00+00:00",
    term: { amount: 48, unit: "hours" },
    deadline: "2026-03-30T11:00:00+01:00",
  },
  {
    what: "a calendar day over the change of clocks ends at the same time of day",
    opensAt: "2026-03-28T10:00:00+00:00",
    term: { amount: 1, unit: "calendar-days" },
    deadline: "2026-03-29T17:00:00+01:00",
  },
  {
    what: "a working day before the substitute day of Christmas 2026",
    opensAt: "2026-12-24T09:00:00+00:00",
    term: { amount: 1, unit: "working-days" },
    deadline: "2026-12-29T17:00:00+00:00",
  },
  {
    what: "the demo: shortage, 24 hours",
    opensAt: "2026-03-03T10:40:00+00:00",
    term: { amount: 24, unit: "hours" },
    deadline: "2026-03-04T10:40:00+00:00",
  },
  {
    what: "the demo: damage and defects, 3 working days",
    opensAt: "2026-03-03T10:40:00+00:00",
    term: { amount: 3, unit: "working-days" },
    deadline: "2026-03-06T17:00:00+00:00",
  },
  {
    what: "the demo: haulier's notice, 7 days",
    opensAt: "2026-03-03T10:40:00+00:00",
    term: { amount: 7, unit: "calendar-days" },
    deadline: "2026-03-10T17:00:00+00:00",
  },
  {
    what: "the demo: haulier's claim, 14 days",
    opensAt: "2026-03-03T10:40:00+00:00",
    term: { amount: 14, unit: "calendar-days" },
    deadline: "2026-03-17T17:00:00+00:00",
  },
] as const;

/** England's bank holidays of 2026 and 2027 on weekdays. Source: the government's list, as npm date-holidays 3.37.0 gives it. */
export const bankHolidays = [
  "2026-01-01",
  "2026-04-03",
  "2026-04-06",
  "2026-05-04",
  "2026-05-25",
  "2026-08-31",
  "2026-12-25",
  "2026-12-28",
  "2027-01-01",
  "2027-03-26",
  "2027-03-29",
  "2027-05-03",
  "2027-05-31",
  "2027-08-30",
  "2027-12-27",
  "2027-12-28",
] as const;
