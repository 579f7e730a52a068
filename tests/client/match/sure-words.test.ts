import { expect, test } from "vitest";
import { changeWords, comparedSpaces, leafSays, photoWords, spaceSureWords } from "../../../client/match/sure-words.ts";
import type { SurenessAnswer } from "../../../server/contract/questions.ts";

const answer: SurenessAnswer = {
  tolerance: 2,
  redraws: 200,
  spaces: [],
  leaves: [
    { leaf: "W01", say: "keep" },
    { leaf: "W07", say: "return" },
    { leaf: "W02", say: "keep" },
  ],
  decisions: [],
  photo: { one: { leaf: "W01", face: "A" }, other: { leaf: "W02", face: "B" }, settles: 3 },
};

test("a space is surely within, surely over, or cannot be told", () => {
  const space = { space: "CORRIDOR", worst: 1.7, low: 1.2, high: 2.4, sure: "open" as const };
  expect(spaceSureWords(space, "Corridor", 2)).toBe(
    "Corridor: worst 1.7, between 1.2 and 2.4: cannot be told to be within 2.0.",
  );
  expect(spaceSureWords({ ...space, sure: "inside" }, "Corridor", 2)).toContain("surely within 2.0");
  expect(spaceSureWords({ ...space, sure: "over" }, "Corridor", 2)).toContain("surely over 2.0");
});

test("spaces in which one face alone is seen are left out", () => {
  const alone = { space: "OFFICE", worst: 0, low: 0, high: 0, sure: "inside" as const };
  const together = { space: "CORRIDOR", worst: 0, low: 0, high: 0.4, sure: "inside" as const };
  expect(comparedSpaces({ ...answer, spaces: [alone, together] })).toEqual([together]);
});

test("leaves by what is to be done, what is to be sent back first", () => {
  expect(leafSays(answer)).toEqual([
    { says: "Send back", codes: ["W07"] },
    { says: "Keep", codes: ["W01", "W02"] },
  ]);
});

test("the photo to take, and places that change", () => {
  expect(photoWords(answer)).toBe("The photo to take next: W01 face A beside W02 face B in one picture.");
  expect(photoWords({ ...answer, photo: null })).toContain("No single photo");
  expect(changeWords({ opening: "1.01", place: 1, leaf: "W01", turned: true, share: 0.3 }, 20)).toBe(
    "W01 in 1.01, second leaf, turned: another in 6 of 20 redraws.",
  );
});
