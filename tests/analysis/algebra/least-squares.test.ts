import { describe, expect, it } from "vitest";
import { leastSquares } from "../../../analysis/algebra/least-squares.ts";
import { longley, noIntercept, norris } from "../../published/nist-linear.ts";

const fit = (rows: readonly (readonly number[])[], y: readonly number[], weights?: readonly number[]) => {
  const result = leastSquares(Float64Array.from(rows.flat()), rows[0]!.length, y, weights);
  if (result.kind !== "fitted") throw new Error(`rank ${result.rank}`);
  return result;
};

const relative = (ours: number, certified: number) => Math.abs(ours / certified - 1);

describe("least squares on certified data", () => {
  it.each([
    { name: "Norris", rows: norris.x.map((x) => [1, x]), ...norris },
    { name: "Longley", ...longley },
    {
      name: "NoInt1",
      rows: noIntercept.x.map((x) => [x]),
      y: noIntercept.y,
      estimate: [noIntercept.estimate],
      deviation: [noIntercept.deviation],
      sumOfSquares: noIntercept.sumOfSquares,
    },
  ])("holds 1e-9 relative on $name", ({ rows, y, estimate, deviation, sumOfSquares }) => {
    const result = fit(rows, y);
    const n = estimate.length;
    estimate.forEach((certified, i) => {
      expect(relative(result.estimate[i]!, certified)).toBeLessThan(1e-9);
    });
    deviation.forEach((certified, i) => {
      const ours = Math.sqrt(result.covariance[i * n + i]! * result.varianceOfUnit);
      expect(relative(ours, certified)).toBeLessThan(1e-9);
    });
    expect(relative(result.sumOfSquares, sumOfSquares)).toBeLessThan(1e-9);
    expect(result.rank).toBe(n);
  });

  it("has the covariance of Norris between its unknowns", () => {
    const result = fit(
      norris.x.map((x) => [1, x]),
      norris.y,
    );
    expect(relative(result.covariance[1]! * result.varianceOfUnit, norris.covariance01)).toBeLessThan(1e-9);
  });
});

describe("least squares", () => {
  it("reads a weight of two as the row given twice", () => {
    const rows = [
      [1, 0],
      [1, 1],
      [1, 2],
    ];
    const weighted = fit(rows, [1, 3, 4], [1, 2, 1]);
    const twice = fit([...rows, [1, 1]], [1, 3, 4, 3]);
    expect(weighted.estimate[0]).toBeCloseTo(twice.estimate[0]!, 12);
    expect(weighted.estimate[1]).toBeCloseTo(twice.estimate[1]!, 12);
  });

  it("says so when two columns are one", () => {
    const rows = Float64Array.from([1, 2, 2, 4, 3, 6]);
    expect(leastSquares(rows, 2, [1, 2, 3])).toEqual({ kind: "rank-deficient", rank: 1 });
  });
});
