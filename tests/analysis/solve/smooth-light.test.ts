import { describe, expect, it } from "vitest";
import { leastSquares } from "../../../analysis/algebra/least-squares.ts";
import { normalFrom } from "../../../analysis/algebra/seeded-random.ts";
import { placeTerms, writeTerms } from "../../../analysis/solve/light-field.ts";
import { smoothLightOff } from "../../../analysis/solve/smooth-light.ts";

const termsAt = (places: readonly (readonly [number, number])[]): Float64Array => {
  const terms = new Float64Array(placeTerms * places.length);
  places.forEach(([x, y], i) => {
    writeTerms(terms, placeTerms * i, x, y);
  });
  return terms;
};

const grid = Array.from({ length: 60 }, (_, i) => [0.3 + 0.02 * (i % 3), -0.6 + 0.06 * Math.floor(i / 3)] as const);

describe("a smooth light taken off", () => {
  it("leaves what least squares on a quadratic leaves", () => {
    const normal = normalFrom(1);
    const values = Float64Array.from(grid, normal);
    const design = Float64Array.from(grid.flatMap(([x, y]) => [1, x, y, x * x, x * y, y * y]));
    const fit = leastSquares(design, 6, values);
    if (fit.kind !== "fitted") throw new Error("not fitted");
    smoothLightOff(termsAt(grid))!(values).forEach((left, i) => {
      expect(left).toBeCloseTo(fit.residuals[i]!, 9);
    });
  });

  it("leaves nothing of a quadratic", () => {
    const values = Float64Array.from(grid, ([x, y]) => 1 + x - 2 * y + x * y - y * y);
    for (const left of smoothLightOff(termsAt(grid))!(values)) expect(Math.abs(left)).toBeLessThan(1e-9);
  });

  it("cannot tell where cells are in line", () => {
    expect(smoothLightOff(termsAt(grid.map(([, y]) => [0.5, y])))).toBeNull();
  });
});
