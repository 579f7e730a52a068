import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { normalFrom } from "../../../analysis/algebra/seeded-random.ts";
import { figureGain, toneUndone, undoTone, undoToneOfMean } from "../../../analysis/solve/tone.ts";

const share = fc.double({ min: 0, max: 1, noNaN: true });

describe("the tone of a phone", () => {
  it("leaves light alone at strength 0, and black, white and middle code at any", () => {
    fc.assert(
      fc.property(share, (linear) => {
        expect(undoTone(linear, 0)).toBeCloseTo(linear, 6);
      }),
      { seed: 1 },
    );
    for (const strength of [-0.3, 0.3]) {
      expect(undoTone(0, strength)).toBeCloseTo(0, 12);
      expect(undoTone(1, strength)).toBeCloseTo(1, 12);
    }
  });

  it("keeps the order of light", () => {
    fc.assert(
      fc.property(share, share, fc.double({ min: -0.4, max: 0.9, noNaN: true }), (one, other, strength) => {
        const [low, high] = one < other ? [one, other] : [other, one];
        expect(undoTone(low, strength)).toBeLessThanOrEqual(undoTone(high, strength) + 1e-12);
      }),
      { seed: 2 },
    );
  });

  it("brings the mean of a cell to the mean of what its pixels become", () => {
    const normal = normalFrom(3);
    const light = Array.from({ length: 20000 }, () => 0.2 * (1 + 0.15 * normal()));
    const average = (values: readonly number[]) => values.reduce((sum, v) => sum + v, 0) / values.length;
    const straight = average(light.map((v) => undoTone(v, 0.4)));
    // 5e-4 relative: three standard errors of the draws.
    expect(Math.abs(undoToneOfMean(average(light), 0.15, 0.4) / straight - 1)).toBeLessThan(5e-4);
  });

  it("gives back less contrast in the middle than it leaves at the ends when an S is undone", () => {
    expect(figureGain(0.2, 0.4)).toBeLessThan(1);
    expect(figureGain(0.2, 0)).toBeCloseTo(1, 6);
  });

  it("is undone by the table as by the formula", () => {
    for (const strength of [-0.3, 0, 0.15, 0.6]) {
      const undo = toneUndone(strength);
      for (let mean = 0.001; mean < 1; mean *= 1.07) {
        const plain = undoToneOfMean(mean, 0.08, strength);
        // A hundredth of the noise of a cell is 4e-5.
        expect(Math.abs(undo(mean, 0.08) / plain - 1)).toBeLessThan(4e-5);
      }
      expect(undo(0, 0)).toBeCloseTo(0, 8);
      expect(undo(1, 0)).toBeCloseTo(undoToneOfMean(1, 0, strength), 8);
    }
  });
});
