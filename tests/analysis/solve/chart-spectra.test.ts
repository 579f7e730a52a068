import { describe, expect, it } from "vitest";
import { apply3 } from "../../../analysis/algebra/matrix3.ts";
import { chart24Spectra } from "../../../analysis/colour/chart24-spectra.ts";
import { adaptWhite, d50White, d65White, lab65FromLab50, xyzToLab65 } from "../../../analysis/colour/lab.ts";
import { xyzInD50 } from "../../../analysis/colour/spectra.ts";
import { spectrumOf } from "../../../analysis/solve/chart-spectra.ts";
import { chart24 } from "../../published/chart24.ts";

describe("the spectrum of a patch", () => {
  it.each(chart24.map(({ patch, labD50 }, i) => [patch, labD50, i] as const))(
    "of %s has the stated colour and nearly the published shape",
    (_, labD50, i) => {
      const stated = lab65FromLab50(labD50);
      const spectrum = spectrumOf(stated);
      const colour = xyzToLab65(apply3(adaptWhite(d50White, d65White), xyzInD50(spectrum)));
      for (const k of [0, 1, 2] as const) expect(colour[k]).toBeCloseTo(stated[k], 2);
      spectrum.forEach((value, n) => {
        expect(value).toBeGreaterThan(0);
        expect(value).toBeLessThan(1.05);
        expect(Math.abs(value - chart24Spectra[i]![n]!)).toBeLessThan(0.1);
      });
    },
  );
});
