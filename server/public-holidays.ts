import { createRequire } from "node:module";
import type DateHolidays from "date-holidays";

const require = createRequire(import.meta.url);

/** By region and year: working them out takes 2 ms a year, and every page with a window asks. */
const known = new Map<string, readonly string[]>();

const inYear = (region: string, year: number): readonly string[] => {
  // Loaded when first asked: its tables of all countries would be a sixth of the time to start.
  const Holidays = require("date-holidays") as typeof DateHolidays;
  const [country = "", state] = region.split("-");
  const calendar = state ? new Holidays(country, state) : new Holidays(country);
  return calendar
    .getHolidays(year)
    .filter(({ type }) => type === "public")
    .map(({ date }) => date.slice(0, 10));
};

/**
 * Public holidays of a country and region, as "GB-ENG", as ISO dates; days off in lieu are among them.
 * Source: npm date-holidays (ISC, its data CC BY-SA 3.0).
 */
export const publicHolidays = (region: string, years: readonly number[]): string[] =>
  years.flatMap((year) => {
    const key = `${region} ${year}`;
    const dates = known.get(key) ?? inYear(region, year);
    known.set(key, dates);
    return [...dates];
  });
