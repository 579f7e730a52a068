import { expect, test } from "vitest";
import { likeDelivered } from "../../../analysis/allot/like-delivered.ts";
import { plantedJob } from "./small-jobs.ts";

const { problem, planted } = plantedJob(6, 1, 4);
const hung = [
  { opening: "D01", place: 0, leaf: "L01", turned: false },
  { opening: "D02", place: 0, leaf: "L02", turned: false },
] as const;
const empty = [
  { opening: "D03", place: 0 },
  { opening: "D04", place: 0 },
] as const;

test("a new leaf looks like the delivered one that goes best with all it is seen with, as often as need be", () => {
  const shown = new Set(hung.map(({ leaf }) => leaf));
  const row = (face: string) => problem.differences.faces.indexOf(face);
  const [first, second] = likeDelivered(problem, hung, empty, 10);
  const worstOf = (leaf: string, face: "A" | "B") =>
    Math.max(...[...shown].map((other) => problem.differences.deltaE[row(`${leaf}/${face}`)]![row(`${other}/A`)]!));
  const best = Math.min(...problem.leaves.flatMap(({ id }) => [worstOf(id, "A"), worstOf(id, "B")]));
  expect(first?.worst).toBe(best);
  expect(second?.worst).toBeGreaterThanOrEqual(0);
});

test("none where no delivered leaf keeps the tolerance there", () => {
  const far = problem.differences.deltaE.map((line, i) => line.map((_, j) => (i === j ? 0 : planted + 5)));
  const apart = { ...problem, differences: { ...problem.differences, deltaE: far } };
  expect(likeDelivered(apart, hung, empty, 1)).toEqual([null, null]);
});
