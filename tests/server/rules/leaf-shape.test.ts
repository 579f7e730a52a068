import { expect, test } from "vitest";
import { judgeShape } from "../../../server/rules/leaf-shape.ts";
import { aLeaf } from "../../support/leaves.ts";
import { someTerms } from "../../support/small-delivery.ts";

const bow = (at: string, mm: number) => ({
  id: "01J00000000000000000000000",
  at,
  kind: "bow" as const,
  mm,
  how: "string line",
  by: "R.",
});

test("bow of a leaf that dried by force and recovered: 4.5 within, 7.0 beyond, 5.5 within again of 6 ± 0.5 mm", () => {
  const readings = [bow("2026-03-16T09:00:00Z", 5.5), bow("2026-03-03T09:00:00Z", 4.5), bow("2026-03-06T09:00:00Z", 7)];
  const judged = (...shape: typeof readings) =>
    judgeShape(aLeaf({ shape }), someTerms.shape).map(({ standing }) => standing);
  const [late, first, worst] = readings;
  if (!late || !first || !worst) throw new Error("three readings");
  expect(judged(first)).toEqual(["within"]);
  expect(judged(first, worst)).toEqual(["beyond"]);
  expect(judged(late, first, worst)).toEqual(["within"]);
});

test("each of bow, twist and cup is judged by its own limit; a leaf without readings is not judged", () => {
  const shape = (["bow", "twist", "cup"] as const).map((kind) => ({ ...bow("2026-03-03T09:00:00Z", 3), kind }));
  expect(judgeShape(aLeaf({ shape }), someTerms.shape).map(({ standing }) => standing)).toEqual([
    "within",
    "within",
    "undecided",
  ]);
  expect(judgeShape(aLeaf({}), someTerms.shape)).toEqual([]);
});
