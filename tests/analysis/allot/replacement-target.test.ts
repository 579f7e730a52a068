import { describe, expect, test } from "vitest";
import { normalFrom } from "../../../analysis/algebra/seeded-random.ts";
import { neighboursOf, replacementTarget } from "../../../analysis/allot/replacement-target.ts";
import { deltaE00 } from "../../../analysis/colour/delta-e00.ts";
import type { Lab65 } from "../../../analysis/colour/lab.ts";
import { plantedJob } from "./small-jobs.ts";

const neighbours = (...labs: Lab65[]) => labs.map((lab) => ({ lab, weight: 1 }));

describe("replacementTarget", () => {
  test("one neighbour: its own colour, and L* as far as the tolerance allows", () => {
    const target = replacementTarget(neighbours([60, 8, 20]), 2);
    if (target.kind !== "target") throw new Error(target.kind);
    expect(target.worst).toBeLessThan(0.01);
    const [low, high] = target.ranges[0];
    expect(deltaE00([60, 8, 20], [low, target.centre[1], target.centre[2]])).toBeCloseTo(2, 2);
    expect(deltaE00([60, 8, 20], [high, target.centre[1], target.centre[2]])).toBeCloseTo(2, 2);
  });

  test("two neighbours: the centre is as far from the one as from the other, half their difference", () => {
    const [one, other]: Lab65[] = [
      [60, 8, 20],
      [63, 8, 20],
    ];
    const target = replacementTarget(neighbours(one!, other!), 2);
    if (target.kind !== "target") throw new Error(target.kind);
    expect(deltaE00(one!, target.centre)).toBeCloseTo(deltaE00(other!, target.centre), 2);
    expect(target.worst).toBeCloseTo(deltaE00(one!, other!) / 2, 1);
  });

  test("neighbours farther apart than any one colour can bridge", () => {
    const target = replacementTarget(neighbours([55, 8, 20], [65, 8, 20]), 2);
    expect(target.kind).toBe("no-colour-fits");
  });

  test("no neighbours, no target", () => {
    expect(replacementTarget([], 2)).toEqual({ kind: "no-neighbours" });
  });

  test("no colour of a thousand drawn near the centre is better than it by more than 0.01", () => {
    const normal = normalFrom(3);
    for (let job = 0; job < 20; job++) {
      const around = Array.from({ length: 4 }, (): Lab65 => [62 + 1.5 * normal(), 8 + 0.6 * normal(), 20 + normal()]);
      const target = replacementTarget(neighbours(...around), 50);
      if (target.kind !== "target") throw new Error(target.kind);
      for (let draw = 0; draw < 1000; draw++) {
        const colour: Lab65 = [target.centre[0] + normal(), target.centre[1] + normal(), target.centre[2] + normal()];
        expect(Math.max(...around.map((lab) => deltaE00(lab, colour)))).toBeGreaterThan(target.worst - 0.01);
      }
    }
  });
});

test("neighbours of an empty place: the faces the others show into the same spaces", () => {
  const { problem } = plantedJob(1, 2, 3);
  const arrangement = [
    { opening: "D02", place: 0, leaf: "L01", turned: false },
    { opening: "D03", place: 0, leaf: "L02", turned: true },
    { opening: "D04", place: 0, leaf: "L03", turned: true },
  ] as const;
  expect(neighboursOf(problem, arrangement, { opening: "D01", place: 0 })).toEqual([
    { side: 0, space: "hall 0", face: "L01/A", weight: 1 },
    { side: 0, space: "hall 0", face: "L02/B", weight: 1 },
  ]);
});
