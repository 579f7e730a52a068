import { converter } from "culori";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { apply3 } from "../../../analysis/algebra/matrix3.ts";
import { decodeCurve, srgbToXyz } from "../../../analysis/colour/encoding.ts";
import {
  adaptWhite,
  d50White,
  d65White,
  lab65FromLab50,
  lab65Slopes,
  lab65ToXyz,
  labToXyz,
  xyzToLab,
  xyzToLab65,
} from "../../../analysis/colour/lab.ts";
import { chart24 } from "../../published/chart24.ts";
import { bradfordD65ToD50, srgbToLabD50, xyzToLabRows } from "../../published/colour-conversions.ts";

const whites = { D65: d65White, D50: d50White, A: [0.44757 / 0.40745, 1, (1 - 0.44757 - 0.40745) / 0.40745] } as const;

describe("CIELAB", () => {
  it.each(xyzToLabRows)("agrees with the published row $lab in $white", ({ xyz, white, lab }) => {
    const ours = xyzToLab(xyz, whites[white]);
    lab.forEach((value, i) => {
      expect(Math.abs(ours[i]! - value)).toBeLessThan(1e-7);
    });
  });

  it("adapts D65 to D50 by the published Bradford matrix", () => {
    adaptWhite(d65White, d50White).forEach((value, i) => {
      expect(Math.abs(value - bradfordD65ToD50[i]!)).toBeLessThan(1e-8);
    });
  });

  it.each(srgbToLabD50)("agrees with two colour engines on sRGB $rgb", ({ rgb, lcms, argyll }) => {
    const [r, g, b] = rgb;
    const linear = [decodeCurve(r / 255), decodeCurve(g / 255), decodeCurve(b / 255)] as const;
    const ours = xyzToLab(apply3(adaptWhite(d65White, d50White), apply3(srgbToXyz, linear)), d50White);
    for (const engine of [lcms, argyll])
      engine?.forEach((value, i) => {
        expect(Math.abs(ours[i]! - value)).toBeLessThan(0.02);
      });
  });

  it.each(chart24)("finds $patch of the chart the same in CIELAB and in x, y, Y", ({ labD50, xyY: [x, y, Y] }) => {
    // The chart was stated against D50 of ASTM E308, which differs from ours in the fifth digit.
    const [X, luminance, Z] = labToXyz(labD50, [0.96422, 1, 0.82521]);
    const sum = X + luminance + Z;
    // 1e-4: the chromaticities are printed to four decimals; the closure found elsewhere is 0.00009.
    expect(Math.abs(X / sum - x)).toBeLessThan(1e-4);
    expect(Math.abs(luminance / sum - y)).toBeLessThan(1e-4);
    expect(Math.abs(luminance - Y)).toBeLessThan(1e-4);
  });

  it("agrees with culori in D65 and when adapting from D50", () => {
    const toLab65 = converter("lab65");
    fc.assert(
      fc.property(
        fc.double({ min: 5, max: 99, noNaN: true }),
        fc.double({ min: -60, max: 60, noNaN: true }),
        fc.double({ min: -60, max: 60, noNaN: true }),
        (l, a, b) => {
          const theirs = toLab65({ mode: "lab", l, a, b });
          const ours = lab65FromLab50([l, a, b]);
          // 1e-4: culori adapts with an 8-decimal matrix of its own.
          expect(Math.abs(ours[0] - theirs.l)).toBeLessThan(1e-4);
          expect(Math.abs(ours[1] - theirs.a)).toBeLessThan(1e-4);
          expect(Math.abs(ours[2] - theirs.b)).toBeLessThan(1e-4);
        },
      ),
      { seed: 3 },
    );
  });

  it("comes back from XYZ, and its slopes are those of small steps", () => {
    const xyz = [0.32, 0.31, 0.17] as const;
    const back = lab65ToXyz(xyzToLab65(xyz));
    xyz.forEach((value, i) => {
      expect(back[i]).toBeCloseTo(value, 12);
    });
    const slopes = lab65Slopes(xyz);
    const step = 1e-6;
    const moved = xyzToLab65([xyz[0] + step, xyz[1], xyz[2]]);
    expect((moved[1] - xyzToLab65(xyz)[1]) / step).toBeCloseTo(slopes[3], 2);
  });
});
