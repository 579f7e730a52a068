import { expect, test } from "vitest";
import { forcedWords, liftWords } from "../../../client/match/lift-words.ts";
import type { LiftAnswer } from "../../../server/contract/questions.ts";

const nameOf = (space: string) => (space === "CORRIDOR" ? "Corridor" : space);
const lift: LiftAnswer["lifts"][number] = {
  by: "other-leaf",
  leaf: "W03",
  opening: null,
  space: null,
  worst: 1.92,
  bound: 1.92,
};
const answer: LiftAnswer = {
  worst: 3.1,
  bound: 3.1,
  pair: { space: "CORRIDOR", one: { leaf: "W03", face: "A" }, other: { leaf: "W08", face: "B" } },
  lifts: [lift],
};

test("each single change is told with what would be left", () => {
  expect(liftWords(lift, nameOf)).toBe("Another leaf in place of W03: worst 1.9.");
  expect(liftWords({ ...lift, by: "let-go", opening: "1.03", bound: 1.7 }, nameOf)).toBe(
    "W03 no longer held in 1.03: worst 1.9, perhaps down to 1.7.",
  );
  expect(liftWords({ ...lift, by: "let-in", space: "CORRIDOR" }, nameOf)).toContain("W03 let in to Corridor again");
  expect(liftWords({ ...lift, by: "other-existing" }, nameOf)).toContain("which hangs there now");
  expect(liftWords({ ...lift, by: "one-more-like" }, nameOf)).toContain("One more leaf like W03");
});

test("the pair that forces the worst is named, and that nothing single lifts it", () => {
  expect(forcedWords(answer, nameOf)).toBe(
    "The worst, 3.1, is W03 face A with W08 face B in Corridor. Any one of these would lift it:",
  );
  expect(forcedWords({ ...answer, pair: null, lifts: [] }, nameOf)).toBe(
    "The worst is 3.1. No single change lifts it.",
  );
});
