import fc from "fast-check";
import { expect, test } from "vitest";
import { scaleStep } from "../../../../server/records/paper/figure.ts";

test.each([
  [500, 50],
  [100, 10],
  [110, 20],
  [2040, 500],
  [6, 1],
])("a scale over %d mm is divided at every %d mm", (length, step) => {
  expect(scaleStep(length)).toBeCloseTo(step, 9);
});

test("a scale has 4 to 10 divisions, each 1, 2 or 5 times a power of ten", () => {
  fc.assert(
    fc.property(fc.double({ min: 1, max: 3000, noNaN: true }), (length) => {
      const step = scaleStep(length);
      const divisions = Math.floor(length / step + 1e-9);
      expect(divisions).toBeGreaterThanOrEqual(4);
      expect(divisions).toBeLessThanOrEqual(10);
      expect(["1", "2", "5"]).toContain(step.toExponential(6).replace(/\.?0*e.*$/, ""));
    }),
    { seed: 7 },
  );
});
