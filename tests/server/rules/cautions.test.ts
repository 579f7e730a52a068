import { expect, test } from "vitest";
import { cautions, massRange } from "../../../server/rules/cautions.ts";
import { aLeaf, aLine, aPattern } from "../../support/leaves.ts";

// Worked examples: kg at 450 and 640 kg/m³.
test.each([
  [1981, 762, 35, 24, 34],
  [2040, 826, 40, 30, 43],
  [1981, 838, 44, 33, 47],
  [2040, 926, 44, 37, 53],
  [2040, 926, 54, 46, 65],
])("%d x %d x %d mm: %d to %d kg", (heightMm, widthMm, thicknessMm, light, heavy) => {
  expect(massRange(aPattern({ heightMm, widthMm }), thicknessMm)).toEqual([light, heavy]);
});

test("a heavy leaf asks for two people, a fire leaf forbids trimming the top, the label's mass wins", () => {
  const line = aLine({ fireRating: "FD30S" });
  expect(cautions(aLeaf({}), aPattern({}), line)).toEqual([
    "about 33 to 47 kg: two people lift it.",
    "FD30S: nothing off the top, sides and bottom only as this leaf's own sheet allows, the label stays on.",
  ]);
  expect(cautions(aLeaf({ massKg: 19 }), aPattern({}), aLine({}))).toEqual([
    "19 kg by its label: one person can lift it with care.",
  ]);
  expect(cautions(aLeaf({ thicknessMm: null }), aPattern({ name: "glazed 2040 x 826" }), null)).toEqual([
    "Glass: gloves, carry it upright, look for the safety mark.",
  ]);
});
