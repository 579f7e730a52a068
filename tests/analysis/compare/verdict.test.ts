import { describe, expect, it } from "vitest";
import { judge, probabilityWithin, standardOffsets } from "../../../analysis/compare/verdict.ts";
import { jcgm106 } from "../../published/uncertainty.ts";

const offsets = standardOffsets();

/** Lightness alone, round L* 50, where CIEDE2000 is the difference in L* to 1 % over this span: a measurement on a line. */
const onLine = (distance: number, uncertainty: number, tolerance: number) =>
  probabilityWithin(
    [50 - distance / 2, 0, 0],
    [50 + distance / 2, 0, 0],
    [uncertainty ** 2, 0, 0, 0, 0, 0, 0, 0, 0],
    tolerance,
    offsets,
  );

describe("probability of conformity", () => {
  it.each(jcgm106)("agrees with JCGM 106: $value within its limits", (example) => {
    const { value, uncertainty, probability } = example;
    const lower = "lower" in example ? example.lower : undefined;
    const upper = "upper" in example ? example.upper : undefined;
    // One limit: put the other ten uncertainties away. The scale is free: one uncertainty stands for 0.5 in L*.
    const scale = 0.5 / uncertainty;
    const top = upper ?? (lower ?? 0) + 20 * uncertainty;
    const bottom = lower ?? top - 20 * uncertainty;
    const distance = Math.abs(value - (top + bottom) / 2) * scale;
    // 0.02: two standard errors of the draws.
    expect(Math.abs(onLine(distance, 0.5, ((top - bottom) / 2) * scale) - probability)).toBeLessThan(0.02);
  });

  it("is certain where no error could reach the limit", () => {
    expect(onLine(1, 0.1, 2)).toBe(1);
    expect(onLine(3, 0.1, 2)).toBe(0);
  });

  it("falls as the tolerance tightens", () => {
    const covariance = [0.5, 0.1, 0, 0.1, 0.4, 0, 0, 0, 0.3] as const;
    const at = (tolerance: number) => probabilityWithin([60, 9, 24], [60.6, 9.5, 25], covariance, tolerance, offsets);
    const falling = [3, 2, 1.5, 1, 0.5].map(at);
    expect([...falling].sort((a, b) => b - a)).toEqual(falling);
  });
});

describe("the verdict", () => {
  it("claims a match or a difference only with confidence, else says it cannot tell", () => {
    expect(judge(0.97).kind).toBe("match");
    expect(judge(0.03).kind).toBe("differs");
    expect(judge(0.5)).toEqual({ kind: "cannot-tell", why: "too-uncertain", probability: 0.5 });
    expect(judge(0.97, 0.99).kind).toBe("cannot-tell");
  });
});
