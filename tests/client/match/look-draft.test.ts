import { expect, test } from "vitest";
import { draftOf, lookOf, lookWords, typedWeight } from "../../../client/match/look-draft.ts";

const look = {
  weight: 2,
  walls: [["1.01", "1.02"], ["1.03"]],
  gentle: "lighter" as const,
  noLightBesideDark: true,
  marksCount: 0.5,
};

test("a look goes into the fields and comes out the same; as usual is none at all", () => {
  expect(lookOf(draftOf(look))).toEqual(look);
  expect(lookOf(draftOf(undefined))).toBeNull();
  expect(lookOf(draftOf({ ...look, marksCount: null })), "marks as usual").toEqual({ ...look, marksCount: null });
  expect(lookOf({ ...draftOf(undefined), weight: "0" }), "a space that does not count is not as usual").toMatchObject({
    weight: 0,
  });
});

test("a number that cannot be used is not saved", () => {
  const draft = draftOf(look);
  expect(lookOf({ ...draft, weight: "10,5" })).toBe("wrong");
  expect(lookOf({ ...draft, weight: "" })).toBe("wrong");
  expect(lookOf({ ...draft, marksCount: "2" })).toBe("wrong");
  expect([typedWeight("0,7", 10), typedWeight("-1", 10), typedWeight("much", 10)]).toEqual([0.7, null, null]);
});

test("in short only what is not as usual is told", () => {
  expect(lookWords(draftOf(undefined))).toBe("as usual");
  expect(lookWords(draftOf(look))).toBe("counts 2.0, 2 walls, one way lighter, no light beside dark, marks count 0.5");
});
