import { expect, test } from "vitest";
import type { Mark, Outcome } from "../../../server/contract/leaf.ts";
import { hiddenFaces } from "../../../server/rules/marked-face.ts";
import { aDelivery, aLeaf, aLine, aMark, anOpening, aPattern, decided } from "../../support/leaves.ts";

/** Two openings that both look from a room of their own into one corridor. */
const delivery = (marks: Mark[], outcome: Outcome = "accept-with-allowance") =>
  aDelivery({
    patterns: [aPattern({ id: "FL-2040X826", widthMm: 826, heightMm: 2040 })],
    lines: [aLine({})],
    leaves: [aLeaf({ decision: decided(outcome, 45) })],
    openings: ["1", "2"].map((id) => anOpening({ id, lines: ["L1"], sides: [`ROOM-${id}`, "CORRIDOR"] })),
    marks,
  });

test("the marked face of a leaf accepted with an allowance is kept out of the corridor", () => {
  expect(hiddenFaces(delivery([aMark({ face: "A" })]))).toEqual([{ leaf: "W01", face: "A", space: "CORRIDOR" }]);
});

test.each([
  ["no mark", []],
  ["a natural feature", [aMark({ kind: "natural" })]],
  ["a mark taken back", [aMark({ withdrawn: true })]],
  ["marks on both faces", [aMark({ face: "A" }), aMark({ id: "01J00000000000000000000001", face: "B" })]],
])("%s asks for nothing", (_, marks) => {
  expect(hiddenFaces(delivery(marks))).toEqual([]);
});

test("a leaf simply accepted may show either face", () => {
  expect(hiddenFaces(delivery([aMark({})], "accept"))).toEqual([]);
});
