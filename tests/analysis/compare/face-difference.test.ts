import { describe, expect, it } from "vitest";
import type { Lab65 } from "../../../analysis/colour/lab.ts";
import { differenceCovariance, uncertainty95 } from "../../../analysis/compare/difference-model.ts";
import { faceComparison } from "../../../analysis/compare/face-difference.ts";
import type { PartKind } from "../../../analysis/leaf-parts.ts";
import type { Adjustment, PartColour } from "../../../analysis/solve/light-adjustment.ts";

const variance = 0.02;
const part = (leaf: string, name: string, kind: PartKind, lab: Lab65, more: Partial<PartColour> = {}): PartColour => ({
  leaf,
  face: "A",
  part: name,
  kind,
  lab,
  covariance: [variance, 0, 0, 0, variance, 0, 0, 0, variance],
  photos: 1,
  cells: 20,
  component: 0,
  known: false,
  ...more,
});

const adjustmentOf = (parts: readonly PartColour[]): Adjustment => ({
  parts,
  between: (i, j) => (i === j ? parts[i]!.covariance : [0, 0, 0, 0, 0, 0, 0, 0, 0]),
  components: [],
  tones: new Map(),
  charts: [],
  standOf: new Map(),
});

const face = (leaf: string) => ({ leaf, face: "A" });

describe("two faces compared", () => {
  const adjustment = adjustmentOf([
    part("W01", "stile-left", "stile", [60, 9, 24]),
    part("W01", "panel", "panel", [62, 9, 25]),
    part("W02", "stile-left", "stile", [60.3, 9, 24]),
    part("W02", "panel-1", "panel", [70, 9, 25]),
    part("W02", "panel-2", "panel", [72, 9, 25]),
    part("W03", "face", "face", [60, 9, 24]),
    part("W04", "stile-left", "stile", [60, 9, 24], { component: 1 }),
    part("W05", "stile-left", "stile", [60, 9, 24], { component: 2, known: true }),
    part("W06", "stile-left", "stile", [60, 9, 24], { component: 3, known: true }),
  ]);
  const compare = faceComparison(adjustment, 2);

  it("compares namesakes, then kinds, and lets the worst decide", () => {
    const { parts, worst, verdict } = compare(face("W01"), face("W02"));
    expect(parts.map(({ part: name }) => name)).toEqual(["stile-left", "panel"]);
    expect(worst?.part).toBe("panel");
    expect(worst?.deltaE).toBeGreaterThan(6);
    expect(verdict.kind).toBe("differs");
  });

  it("is the same either way round", () => {
    const one = compare(face("W01"), face("W02"));
    const other = compare(face("W02"), face("W01"));
    expect(other.worst?.deltaE).toBeCloseTo(one.worst!.deltaE, 9);
    expect(other.worst?.u95).toBeCloseTo(one.worst!.u95, 9);
  });

  it("has no difference where no part is alike or nothing ties the photos", () => {
    expect(compare(face("W01"), face("W03")).verdict).toEqual({ kind: "cannot-tell", why: "no-common-part" });
    expect(compare(face("W01"), face("W04")).verdict).toEqual({ kind: "cannot-tell", why: "nothing-ties-them" });
    expect(compare(face("W05"), face("W06")).verdict.kind).toBe("match");
    expect(compare(face("W01"), face("W05")).verdict.kind).toBe("cannot-tell");
  });
});

describe("the uncertainty of a difference", () => {
  it("is never less than the floor, not even for equal colours", () => {
    const lab: Lab65 = [60, 9, 24];
    const covariance = differenceCovariance(lab, lab, [0, 0, 0, 0, 0, 0, 0, 0, 0]);
    // L* 60: one unit is 0.88 in CIEDE2000, the floor 0.1 in each axis.
    expect(uncertainty95(lab, lab, covariance)).toBeGreaterThan(0.15);
  });

  it("grows with the difference and with the light's covariance", () => {
    const lab: Lab65 = [60, 9, 24];
    const light = [0.04, 0, 0, 0, 0.04, 0, 0, 0, 0.04] as const;
    const width = (L: number, k: number) =>
      uncertainty95(lab, [L, 9, 24], differenceCovariance(lab, [L, 9, 24], light.map((v) => v * k) as never));
    expect(width(65, 1)).toBeGreaterThan(width(61, 1));
    expect(width(61, 4)).toBeGreaterThan(width(61, 1));
  });
});
