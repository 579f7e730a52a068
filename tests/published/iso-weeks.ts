/** Dates and their ISO 8601 week dates (year, week, weekday with Monday 1), computed with two calendars that agree. */
export const isoWeekDates = [
  ["2005-01-01", 2004, 53, 6],
  ["2008-12-29", 2009, 1, 1],
  ["2010-01-03", 2009, 53, 7],
  ["2026-01-01", 2026, 1, 4],
  ["2027-01-01", 2026, 53, 5],
] as const;
