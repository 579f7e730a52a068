import { describe, expect, it } from "vitest";
import { patchMaterial, patchReflectance } from "../../../sample-images/render/chart-patch.ts";
import { chartBefore2014, chartSince2014 } from "../../../sample-images/render/chart-values.ts";
import { rgbOfLab50 } from "../../../sample-images/render/colour.ts";
import { publishedPatches } from "../../../sample-images/render/spectral-tables.ts";
import { labUnderD50 } from "./lab-under-d50.ts";

describe.each([
  ["before", chartBefore2014],
  ["since", chartSince2014],
])("the patches of the chart as made %s November 2014", (_, stated) => {
  it("have exactly the stated colours under D50", () => {
    stated.forEach((lab, i) => {
      labUnderD50(patchReflectance(i, lab)).forEach((value, k) => {
        expect(value, `patch ${i + 1}`).toBeCloseTo(lab[k]!, 6);
      });
    });
  });

  it("keep the shape of the published spectra, and lie between black and white", () => {
    stated.forEach((lab, i) => {
      const published = publishedPatches[i]!;
      patchReflectance(i, lab).forEach((value, n) => {
        expect(value).toBeGreaterThan(0);
        expect(value).toBeLessThan(1);
        // the published spectra are of another copy of the chart, up to 17 % away at a wavelength
        expect(Math.abs(value / published[n]! - 1), `patch ${i + 1}`).toBeLessThan(0.2);
      });
    });
  });

  it("reflect that spectrum as a material of their colour", () => {
    const rgb = rgbOfLab50(stated[6]!);
    const material = patchMaterial(6, stated[6]!);
    patchReflectance(6, stated[6]!).forEach((value, n) => {
      expect(rgb.reduce((sum, share, k) => sum + share * material[k]![n]!, 0)).toBeCloseTo(value, 10);
    });
  });
});
