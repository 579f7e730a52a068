import { expect, test } from "vitest";
import { jointLines, laidOnLines } from "../../../analysis/joints/joint-lines.ts";
import { layoutOf, type PatternName } from "../../../analysis/patterns.ts";
import { breadthWords, lineWords, placeWords } from "../../../client/joints/line-words.ts";
import type { Pattern } from "../../../server/contract/leaf.ts";
import { aPattern } from "../../support/leaves.ts";

const patternOf = (name: PatternName): Pattern => {
  const parts = layoutOf(name, 838, 1981)?.parts ?? [];
  return aPattern({ parts: parts.map((part) => ({ ...part, rectMm: [...part.rectMm] })) });
};

const wordsOf = (name: PatternName): string[] => {
  const pattern = patternOf(name);
  return jointLines(pattern).map((line) => lineWords(pattern, line));
};

test("a line is called by the parts that run along it", () => {
  expect(wordsOf("four-panel")).toEqual([
    "Stile left, right edge",
    "Muntin top and muntin bottom, left edge",
    "Muntin top and muntin bottom, right edge",
    "Stile right, left edge",
    "Rail top, lower edge",
    "Rail mid, upper edge",
    "Rail mid, lower edge",
    "Rail bottom, upper edge",
  ]);
  expect(wordsOf("boarded").slice(0, 2)).toEqual(["Board 1 to board 2", "Board 2 to board 3"]);
});

test.each(["one-panel", "three-panel", "six-panel", "five-horizontal", "boarded", "ladder", "glazed"] as const)(
  "no two lines of %s have the same name",
  (name) => {
    const words = wordsOf(name);
    expect(words.length).toBeGreaterThan(0);
    expect(new Set(words).size).toBe(words.length);
  },
);

test("a lone panel's sides are called by the panel", () => {
  const lone = aPattern({ parts: [{ name: "panel", kind: "panel", grain: "v", rectMm: [200, 300, 400, 900] }] });
  expect(jointLines(lone).map((line) => lineWords(lone, line))).toEqual([
    "Panel, left edge",
    "Panel, right edge",
    "Panel, upper edge",
    "Panel, lower edge",
  ]);
});

test("a line tells how far it is, and how broad the parts along it have become", () => {
  const pattern = patternOf("four-panel");
  const lines = jointLines(pattern);
  const linesMm = lines.map(({ axis, atMm }) => (axis === "y" && Math.round(atMm) === 951 ? 930.26 : atMm));
  const { parts } = laidOnLines(pattern, lines, { linesMm, mouldingMm: null });
  const moved = aPattern({ parts: parts.map((part) => ({ ...part, rectMm: [...part.rectMm] })) });
  const [stile, muntin, , , , rail] = lines;
  if (!stile || !muntin || !rail) throw new Error("no lines");
  expect(placeWords(stile, 105)).toBe("105 mm from the left");
  expect(placeWords(rail, 930.26)).toBe("930.3 mm from the top");
  expect(breadthWords(moved, rail)).toBe("rail mid 211 mm");
  expect(breadthWords(moved, muntin)).toBe("muntin top 100 mm, muntin bottom 100 mm");
});
