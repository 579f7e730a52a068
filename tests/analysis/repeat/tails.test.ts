import { describe, expect, it } from "vitest";
import { chiSquareQuantile, fUpperTail } from "../../../analysis/repeat/tails.ts";

describe("chi-square", () => {
  // Printed tables of its critical values, three decimals (from memory; they stand in every handbook of statistics).
  it.each([
    [0.975, 1, 5.024],
    [0.025, 2, 0.051],
    [0.975, 2, 7.378],
    [0.025, 5, 0.831],
    [0.975, 5, 12.833],
    [0.025, 10, 3.247],
    [0.975, 10, 20.483],
    [0.95, 30, 43.773],
    [0.025, 100, 74.222],
    [0.975, 100, 129.561],
  ])("stays below its table's value with %f at %i degrees of freedom", (probability, degrees, printed) => {
    expect(chiSquareQuantile(probability, degrees)).toBeCloseTo(printed, 3);
  });

  it("with two degrees of freedom is exponential", () => {
    for (const p of [0.01, 0.3, 0.5, 0.9, 0.999]) expect(chiSquareQuantile(p, 2)).toBeCloseTo(-2 * Math.log(1 - p), 9);
  });
});

describe("F", () => {
  // Printed tables of the value passed with 0.05, two or three decimals (from memory; they stand in every handbook of statistics).
  it.each([
    [161.448, 1, 1],
    [4.103, 2, 10],
    [2.711, 5, 20],
    [1.84, 20, 40],
  ])("passes %f with 0.05 at %i and %i degrees of freedom", (ratio, above, below) => {
    expect(fUpperTail(ratio, above, below)).toBeCloseTo(0.05, 3);
  });

  it("turned over is its own other tail", () => {
    for (const [ratio, above, below] of [
      [0.4, 18, 60],
      [2.2, 3, 7],
      [1, 5, 5],
    ] as const)
      expect(fUpperTail(ratio, above, below) + fUpperTail(1 / ratio, below, above)).toBeCloseTo(1, 12);
  });

  it("passes nothing at all with certainty, and what is endless never", () => {
    expect(fUpperTail(0, 3, 4)).toBe(1);
    expect(fUpperTail(Number.POSITIVE_INFINITY, 3, 4)).toBe(0);
  });
});
