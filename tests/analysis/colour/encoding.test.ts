import { converter } from "culori";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { apply3 } from "../../../analysis/algebra/matrix3.ts";
import {
  decodeCurve,
  decodeTable,
  encodeCurve,
  srgbToXyz,
  toSrgbPrimaries,
} from "../../../analysis/colour/encoding.ts";
import { decodedCodes, srgbToXyzMatrix } from "../../published/colour-conversions.ts";

describe("encoding", () => {
  it.each(decodedCodes)("decodes code %i", (code, linear) => {
    expect(decodeTable()[code]).toBeCloseTo(linear, 8);
  });

  it("has the matrix of sRGB", () => {
    srgbToXyz.forEach((value, i) => {
      expect(Math.abs(value - srgbToXyzMatrix[i]!)).toBeLessThan(1e-12);
    });
  });

  it("encodes what it decoded", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1, noNaN: true }), (v) => {
        // 2e-7: the two printed thresholds of the standard do not meet exactly.
        expect(Math.abs(encodeCurve(decodeCurve(v)) - v)).toBeLessThan(2e-7);
      }),
      { seed: 1 },
    );
  });

  it("takes Display P3 to sRGB primaries as culori does", () => {
    const toLinear = converter("lrgb");
    const ours = apply3(toSrgbPrimaries("display-p3"), [decodeCurve(0.8), decodeCurve(0.6), decodeCurve(0.4)]);
    const theirs = toLinear({ mode: "p3", r: 0.8, g: 0.6, b: 0.4 });
    // 1e-5: culori carries its P3 matrices to fewer decimals.
    expect(Math.abs(ours[0] - theirs.r)).toBeLessThan(1e-5);
    expect(Math.abs(ours[1] - theirs.g)).toBeLessThan(1e-5);
    expect(Math.abs(ours[2] - theirs.b)).toBeLessThan(1e-5);
  });
});
