import { differenceCiede2000 } from "culori";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { deltaE00, deltaE00Of, deltaE00Slopes } from "../../../analysis/colour/delta-e00.ts";
import { ciede2000FarPairs, ciede2000Pairs } from "../../published/ciede2000-pairs.ts";

/** Hundredths, so that no colour is grey but for a last bit, where hue means nothing. */
const hundredths = (min: number, max: number) => fc.integer({ min: min * 100, max: max * 100 }).map((v) => v / 100);
const colour = fc.tuple(hundredths(0, 100), hundredths(-100, 100), hundredths(-100, 100));

describe("CIEDE2000", () => {
  it.each(ciede2000Pairs.map((row, i) => [i + 1, ...row] as const))(
    "agrees with the published pair %i",
    (_, L1, a1, b1, L2, a2, b2, printed, full) => {
      expect(Math.abs(deltaE00Of(L1, a1, b1, L2, a2, b2) - printed)).toBeLessThanOrEqual(5e-5 + 1e-9);
      expect(Math.abs(deltaE00Of(L1, a1, b1, L2, a2, b2) - full)).toBeLessThanOrEqual(1e-9);
    },
  );

  it.each(ciede2000FarPairs)("agrees far apart: %d %d %d / %d %d %d", (L1, a1, b1, L2, a2, b2, printed) => {
    expect(deltaE00Of(L1, a1, b1, L2, a2, b2)).toBeCloseTo(printed, 7);
  });

  it("agrees with culori on any two colours", () => {
    const difference = differenceCiede2000();
    const culori = ([l, a, b]: readonly [number, number, number]) => ({ mode: "lab65" as const, l, a, b });
    fc.assert(
      fc.property(colour, colour, (one, other) => {
        expect(Math.abs(deltaE00(one, other) - difference(culori(one), culori(other)))).toBeLessThan(1e-6);
      }),
      { seed: 7, numRuns: 2000 },
    );
  });

  it("is nil for equal colours and the same when swapped", () => {
    fc.assert(
      fc.property(colour, colour, (one, other) => {
        expect(deltaE00(one, one)).toBe(0);
        expect(Math.abs(deltaE00(one, other) - deltaE00(other, one))).toBeLessThan(1e-9);
      }),
      { seed: 8 },
    );
  });

  it("has slopes that foretell a small move", () => {
    const one = [60, 10, 25] as const;
    const other = [61, 11, 27] as const;
    const slopes = deltaE00Slopes(one, other);
    const moved = deltaE00(one, [other[0] + 0.1, other[1] - 0.05, other[2] + 0.1]);
    expect(moved - deltaE00(one, other)).toBeCloseTo(0.1 * slopes[0] - 0.05 * slopes[1] + 0.1 * slopes[2], 2);
  });
});
