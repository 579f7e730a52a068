import { describe, expect, test } from "vitest";
import { comparedWith, type FaceColours, replacementLook } from "../../../analysis/allot/replacement-look.ts";
import { deltaE00 } from "../../../analysis/colour/delta-e00.ts";
import { plantedJob } from "./small-jobs.ts";

describe("comparedWith", () => {
  test.each([
    [[60, 8, 20], [60, 8, 20], "the same as"],
    [[60.3, 8, 20], [60, 8, 20], "the same as"],
    [[61.2, 8, 20], [60, 8, 20], "a little lighter than"],
    [[58.8, 8, 20], [60, 8, 20], "a little darker than"],
    [[61.5, 8, 21.8], [60, 8, 20], "a little lighter and yellower than"],
    [[57, 8, 20], [60, 8, 20], "darker than"],
    [[70, 8, 20], [60, 8, 20], "much lighter than"],
    [[60, 9.5, 20], [60, 8, 20], "a little redder than"],
    [[60, 8, 18], [60, 8, 20], "a little bluer than"],
  ] as const)("%j beside %j is %s", (colour, other, words) => {
    expect(comparedWith(colour, other)).toBe(words);
  });
});

const hall = [
  { opening: "D02", place: 0, leaf: "L01", turned: false },
  { opening: "D03", place: 0, leaf: "L02", turned: true },
] as const;

const colours: FaceColours = new Map([
  [
    "L01/A",
    [
      { part: "panel", lab: [60, 8, 20], u95: 0.4 },
      { part: "stile", lab: [58, 8, 20], u95: 0.5 },
    ],
  ],
  ["L02/B", [{ part: "panel", lab: [62, 8, 20], u95: 0.7 }]],
  ["L03/A", [{ part: "panel", lab: [61, 8, 20], u95: null }]],
]);

describe("replacementLook", () => {
  const { problem } = plantedJob(1, 1, 3);

  test("part by part: between the faces beside it, and like the delivered face that comes nearest", () => {
    const looks = replacementLook(problem, hall, { opening: "D01", place: 0 }, colours, 2);
    expect(looks.map(({ side, space, part }) => [side, space, part])).toEqual([
      [0, "hall 0", "panel"],
      [0, "hall 0", "stile"],
    ]);
    const [panel] = looks;
    if (panel?.target.kind !== "target") throw new Error(panel?.target.kind);
    expect(deltaE00(panel.target.centre, [60, 8, 20])).toBeCloseTo(deltaE00(panel.target.centre, [62, 8, 20]), 2);
    expect(panel).toMatchObject({ knownWithin: 0.7, like: { face: "L03/A", words: "the same as" } });
    const [low, high] = panel.target.ranges[0];
    expect(deltaE00([low, 8, 20], [62, 8, 20])).toBeCloseTo(2, 1);
    expect(deltaE00([high, 8, 20], [60, 8, 20])).toBeCloseTo(2, 1);
  });

  test("the leaf that hangs in the place now says nothing about what should come there", () => {
    const withOld = [...hall, { opening: "D01", place: 0, leaf: "L03", turned: false }] as const;
    expect(replacementLook(problem, withOld, { opening: "D01", place: 0 }, colours, 2)).toEqual(
      replacementLook(problem, hall, { opening: "D01", place: 0 }, colours, 2),
    );
  });

  test("a place seen with no measured face asks for nothing", () => {
    expect(replacementLook(problem, [], { opening: "D01", place: 0 }, colours, 2)).toEqual([]);
    expect(replacementLook(problem, hall, { opening: "D01", place: 0 }, new Map(), 2)).toEqual([]);
  });
});
