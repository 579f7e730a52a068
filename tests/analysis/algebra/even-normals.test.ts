import { describe, expect, it } from "vitest";
import { evenNormals, normalQuantile } from "../../../analysis/algebra/even-normals.ts";

describe("the normal quantile", () => {
  // Tables of the standard normal distribution, as in JCGM 100:2008 table G.1 (coverage factors) and from memory.
  it.each([
    [0.5, 0],
    [0.84134474606854, 1],
    [0.97724986805182, 2],
    [0.99865010196837, 3],
    [0.975, 1.959963984540054],
    [0.95, 1.6448536269514722],
    [0.99, 2.3263478740408408],
    [1e-4, -3.719016485455709],
  ])("of %f is %f", (share, value) => {
    expect(normalQuantile(share)).toBeCloseTo(value, 6);
    expect(normalQuantile(1 - share)).toBeCloseTo(-value, 6);
  });
});

describe("normals spread evenly", () => {
  const points = evenNormals(512);
  const axis = (k: number) => Array.from({ length: 512 }, (_, i) => points[3 * i + k]!);
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

  it("have mean 0, variance 1, and go each their own way", () => {
    for (const k of [0, 1, 2]) {
      // Drawn ones would be off by 0.044, standard error.
      expect(Math.abs(mean(axis(k)))).toBeLessThan(0.02);
      expect(Math.abs(mean(axis(k).map((value) => value * value)) - 1)).toBeLessThan(0.03);
      const other = axis((k + 1) % 3);
      expect(Math.abs(mean(axis(k).map((value, i) => value * other[i]!)))).toBeLessThan(0.02);
    }
  });

  it("have a share of a ball that chi squared of three degrees gives it", () => {
    // Quantiles of chi squared with three degrees of freedom (tables, from memory).
    for (const [radius2, share] of [
      [2.366, 0.5],
      [6.251, 0.9],
      [7.815, 0.95],
    ] as const) {
      const inside = Array.from({ length: 512 }, (_, i) => points.slice(3 * i, 3 * i + 3)).filter(
        (point) => point.reduce((sum, value) => sum + value * value, 0) <= radius2,
      );
      // Drawn ones would be off by 0.022, standard error of the half.
      expect(Math.abs(inside.length / 512 - share)).toBeLessThan(0.015);
    }
  });
});
