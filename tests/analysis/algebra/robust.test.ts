import { describe, expect, it } from "vitest";
import { median, robustSpread, tukeyWeight } from "../../../analysis/algebra/robust.ts";
import { normalFrom, uniformFrom } from "../../../analysis/algebra/seeded-random.ts";

describe("robust", () => {
  it("takes the middle and is not pulled by one wild value", () => {
    expect(median([5, 1, 3])).toBe(3);
    expect(median([4, 1, 3, 2])).toBe(2.5);
    expect(robustSpread([1, 2, 3, 4, 1000])).toBeCloseTo(1.4826, 10);
  });

  it("finds the SD of Gaussian values within 3 %", () => {
    const normal = normalFrom(5);
    const spread = robustSpread(Array.from({ length: 20000 }, () => 10 + 2 * normal()));
    expect(Math.abs(spread / 2 - 1)).toBeLessThan(0.03);
  });

  it("falls from full weight to none without a step", () => {
    expect(tukeyWeight(3, 3, 5)).toBe(1);
    expect(tukeyWeight(-5, 3, 5)).toBe(0);
    expect(tukeyWeight(3.01, 3, 5)).toBeGreaterThan(0.99);
    expect(tukeyWeight(4.99, 3, 5)).toBeLessThan(0.01);
  });
});

describe("seeded random", () => {
  it("says the same twice and is uniform enough", () => {
    const one = uniformFrom(1);
    const other = uniformFrom(1);
    const values = Array.from({ length: 10000 }, one);
    expect(values.slice(0, 100)).toEqual(Array.from({ length: 100 }, other));
    // 0.01: three standard errors of the mean of 10000.
    expect(Math.abs(values.reduce((a, b) => a + b) / values.length - 0.5)).toBeLessThan(0.01);
  });
});
