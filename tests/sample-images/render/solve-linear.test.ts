import { describe, expect, it } from "vitest";
import { solveLinear } from "../../../sample-images/render/solve-linear.ts";

describe("linear equations of the renderer", () => {
  it("are solved where the first pivot is nil", () => {
    const rows = [
      [0, 2, 1],
      [1, -1, 3],
      [4, 0, -2],
    ];
    const x = [3, -1, 2];
    const right = rows.map((row) => row.reduce((sum, value, k) => sum + value * x[k]!, 0));
    solveLinear(rows, right).forEach((value, k) => {
      expect(value).toBeCloseTo(x[k]!, 12);
    });
  });

  it("are refused where they do not decide every unknown", () => {
    const twice = [
      [1, 2],
      [2, 4],
    ];
    expect(() => solveLinear(twice, [1, 2])).toThrow("do not decide");
  });
});
