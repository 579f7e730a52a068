import { expect, test } from "vitest";
import { judgeMark } from "../../../server/rules/mark-limits.ts";
import { aMark } from "../../support/leaves.ts";
import { someTerms } from "../../support/small-delivery.ts";

const terms = { ...someTerms, marks: [{ kind: "dent" as const, longestMm: 10, deepestMm: 0.5, contrastDE00: null }] };
const box = (w: number) => ({ x: 0, y: 0, w, h: 2 });

test.each([
  [{ box: box(14), depthMm: 0.1 }, "beyond-limits"],
  [{ box: box(5), depthMm: 0.7 }, "beyond-limits"],
  [{ box: box(5), depthMm: 0.3 }, "within-limits"],
  [{ box: box(10.5), depthMm: 0.1 }, "undecided"],
  [{ box: box(5), depthMm: null }, "undecided"],
  [{ box: box(14), depthMm: 0.7, seenFromM: 1 }, "within-limits"],
  [{ box: box(14), depthMm: 0.7, seenFromM: 1.5 }, "beyond-limits"],
  [{ kind: "natural" as const, box: box(900) }, "natural"],
  [{ kind: "split" as const, box: box(900) }, "no-limit"],
])("%j is %s", (given, verdict) => {
  expect(judgeMark(aMark(given), terms).verdict).toBe(verdict);
});

test("a crushed corner is judged by its size, from however near it was seen", () => {
  const corner = {
    ...terms,
    marks: [{ kind: "crushed-corner" as const, longestMm: 5, deepestMm: 1, contrastDE00: null }],
  };
  const mark = aMark({ kind: "crushed-corner", box: { x: 888, y: 2018, w: 38, h: 22 }, depthMm: 9, seenFromM: 0.5 });
  expect(judgeMark(mark, corner)).toEqual({
    verdict: "beyond-limits",
    why: "Beyond: length 38 mm, agreed limit 5 mm; depth 9 mm, agreed limit 1 mm.",
  });
});
