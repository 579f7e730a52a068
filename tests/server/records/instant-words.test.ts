import { expect, test } from "vitest";
import { instantWords } from "../../../server/records/instant-words.ts";

test.each([
  ["2026-03-03T10:40:00+00:00", "Europe/London", "Tue 3 Mar 2026 10:40"],
  ["2026-03-06T00:05:00+01:00", "Europe/London", "Thu 5 Mar 2026 23:05"],
  // Clocks went forward at 01:00 on 29 March 2026 in the United Kingdom.
  ["2026-03-29T01:30:00Z", "Europe/London", "Sun 29 Mar 2026 02:30"],
  ["2026-12-31T23:30:00Z", "Pacific/Auckland", "Fri 1 Jan 2027 12:30"],
])("%s in %s is %s", (instant, zone, words) => {
  expect(instantWords(instant, zone)).toBe(words);
});
