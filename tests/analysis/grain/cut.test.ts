import { describe, expect, test } from "vitest";
import { type CutFigure, cutDifferences } from "../../../analysis/grain/cut.ts";

/** A panel of straight grain, upright, a line every 6 mm, all of it sure. */
const panel = (given: Partial<CutFigure> = {}): CutFigure => ({
  part: "panel",
  kind: "panel",
  directionDeg: 0,
  pitchMm: 6,
  spreadDeg: 3,
  figure: "straight",
  ...given,
  u95: { directionDeg: 1, pitchMm: 0.5, contrastL: 0.2, spreadDeg: 1, ...given.u95 },
});

const crown = panel({ figure: "crown", spreadDeg: 12 });

describe("cuts of two faces", () => {
  test("are alike when both are", () => {
    expect(cutDifferences([panel()], [panel()])).toEqual([]);
    expect(cutDifferences([crown], [crown])).toEqual([]);
  });

  test("differ when crown stands beside straight", () => {
    expect(cutDifferences([panel()], [crown])).toEqual([
      { kind: "panel", what: "figure", one: "straight", other: "crown" },
    ]);
    expect(cutDifferences([crown], [panel()])).toEqual([
      { kind: "panel", what: "figure", one: "crown", other: "straight" },
    ]);
  });

  test("are not told apart where crown is not sure, nor where no figure shows", () => {
    const u95 = { ...crown.u95, spreadDeg: 10 };
    expect(cutDifferences([panel()], [{ ...crown, u95 }])).toEqual([]);
    expect(cutDifferences([panel()], [{ ...crown, figure: "plain" }])).toEqual([]);
  });

  test("differ in the lean of their grain, also across the turn of the angle", () => {
    expect(cutDifferences([panel()], [panel({ directionDeg: 7 })])).toMatchObject([
      { what: "direction", one: 0, other: 7 },
    ]);
    expect(cutDifferences([panel({ directionDeg: 89 })], [panel({ directionDeg: -89 })])).toEqual([]);
  });

  test("differ in how close the lines are, when that is sure and an eye sees it", () => {
    expect(cutDifferences([panel()], [panel({ pitchMm: 12 })])).toEqual([
      { kind: "panel", what: "pitch", one: 6, other: 12 },
    ]);
    expect(cutDifferences([panel()], [panel({ pitchMm: 7.5 })])).toEqual([]);
    expect(cutDifferences([panel()], [panel({ pitchMm: null })])).toEqual([]);
    const u95 = { ...panel().u95, pitchMm: null };
    expect(cutDifferences([panel()], [panel({ pitchMm: 12, u95 })])).toEqual([]);
  });

  test("are compared in parts that both show, those of one kind together", () => {
    expect(cutDifferences([panel()], [{ ...crown, part: "other" }])).toEqual([]);
    const two = (lean: number) => [panel({ directionDeg: lean }), panel({ part: "second", directionDeg: 0 })];
    // 8 degrees in one of two panels are 4 over both.
    expect(cutDifferences(two(0), two(8))).toEqual([]);
    expect(cutDifferences(two(0), two(12))).toMatchObject([{ what: "direction", other: 6 }]);
  });
});
