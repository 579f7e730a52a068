import { describe, expect, it } from "vitest";
import { deltaE00 } from "../../../analysis/colour/delta-e00.ts";
import type { Lab65 } from "../../../analysis/colour/lab.ts";
import { chartBefore2014 } from "../../../sample-images/render/chart-values.ts";
import { rgbOfLab50 } from "../../../sample-images/render/colour.ts";
import { daylight, observerUnder, publishedPatches } from "../../../sample-images/render/spectral-tables.ts";
import { dot, type Spectrum, wavelengths } from "../../../sample-images/render/spectrum.ts";
import { labUnderD50 } from "./lab-under-d50.ts";

const chromaticity = (light: Spectrum): readonly [number, number] => {
  const equal = observerUnder(wavelengths.map(() => 1));
  const [x, y, z] = equal.map((curve) => dot(curve, light)) as [number, number, number];
  return [x / (x + y + z), y / (x + y + z)];
};

describe("the tables of spectra", () => {
  it.each([
    ["D65", daylight.d65, [0.31272, 0.32903]],
    ["D50", daylight.d50, [0.34567, 0.35851]],
  ] as const)("put the white of %s where CIE 15 has it", (_, light, [x, y]) => {
    const [ownX, ownY] = chromaticity(light);
    // chromaticities as published in CIE 15 (from memory); sums in steps of 5 nm differ from it in the fourth digit
    expect(ownX).toBeCloseTo(x, 3);
    expect(ownY).toBeCloseTo(y, 3);
  });

  it("hold 24 patches whose colours under D50 are those stated for the chart, about", () => {
    expect(publishedPatches).toHaveLength(24);
    const apart = publishedPatches.map((patch, i) =>
      deltaE00(labUnderD50(patch) as unknown as Lab65, chartBefore2014[i] as unknown as Lab65),
    );
    // mean 0.97, most 1.68: computed from the same two tables by another program, to the second digit
    expect(apart.reduce((sum, value) => sum + value, 0) / 24).toBeCloseTo(0.97, 1);
    expect(Math.max(...apart)).toBeLessThan(1.75);
  });

  it("list the patches in the order of the chart: its greys are grey", () => {
    for (const [i, patch] of publishedPatches.entries()) {
      const [, a, b] = labUnderD50(patch);
      expect(Math.hypot(a, b) < 5, `patch ${i + 1}`).toBe(i >= 18);
    }
    expect(rgbOfLab50(chartBefore2014[18]!)[1]).toBeGreaterThan(0.85);
  });
});
