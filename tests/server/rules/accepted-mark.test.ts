import { expect, test } from "vitest";
import type { Mark, Outcome } from "../../../server/contract/leaf.ts";
import { acceptedMark } from "../../../server/rules/accepted-mark.ts";
import { aDelivery, aLeaf, aMark, decided } from "../../support/leaves.ts";

const delivery = (marks: Mark[], outcome: Outcome = "accept-with-allowance") =>
  aDelivery({ leaves: [aLeaf({ decision: decided(outcome, 45) })], marks });

test.each([
  ["the contrast of the mark seen most", [aMark({ contrastDE00: 3 }), aMark({ contrastDE00: 5 })], 5],
  ["the tolerance where it is fainter", [aMark({ contrastDE00: 0.5 })], 2],
  ["the tolerance where it was not measured", [aMark({ contrastDE00: null })], 2],
  ["nothing for a natural feature", [aMark({ kind: "natural", contrastDE00: 5 })], 0],
  ["nothing for one taken back", [aMark({ withdrawn: true, contrastDE00: 5 })], 0],
  ["nothing for one on the other face", [aMark({ face: "B", contrastDE00: 5 })], 0],
])("a marked face counts %s", (_, marks, counts) => {
  expect(acceptedMark(delivery(marks), "W01", "A")).toBe(counts);
});

test("a leaf that is not accepted is not planned by its marks", () => {
  const marks = [aMark({ contrastDE00: 5 })];
  expect(acceptedMark(delivery(marks, "accept"), "W01", "A")).toBe(5);
  expect(acceptedMark(delivery(marks, "hold"), "W01", "A")).toBe(0);
});
