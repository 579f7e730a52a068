import { expect, test } from "vitest";
import { standing } from "../../../server/rules/agreed-limit.ts";

test.each([
  [5.5, 6, 0.5, "within"],
  [5.6, 6, 0.5, "undecided"],
  [6.5, 6, 0.5, "undecided"],
  [6.6, 6, 0.5, "beyond"],
  [6, 6, 0, "within"],
] as const)("%d against %d ± %d is %s", (value, limit, uncertainty, expected) => {
  expect(standing(value, limit, uncertainty)).toBe(expected);
});
