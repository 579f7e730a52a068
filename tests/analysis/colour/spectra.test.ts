import { describe, expect, it } from "vitest";
import { chart24Spectra } from "../../../analysis/colour/chart24-spectra.ts";
import { deltaE00 } from "../../../analysis/colour/delta-e00.ts";
import { d50White, xyzToLab } from "../../../analysis/colour/lab.ts";
import { wavelengths, xyzInD50, xyzInD65 } from "../../../analysis/colour/spectra.ts";
import { chart24 } from "../../published/chart24.ts";

describe("colours from spectra", () => {
  it("gives white its white, and a grey its share of it", () => {
    const even = (share: number) => wavelengths.map(() => share);
    expect(xyzInD65(even(1))[1]).toBeCloseTo(1, 12);
    expect(xyzInD50(even(0.18))).toEqual(d50White.map((value) => expect.closeTo(0.18 * value, 12)));
  });

  it("brings the published spectra of the chart near its published colours", () => {
    // The 1997 spectra against the values stated for 2005: mean 0.97, most 1.68 at 5 nm (reckoned from both tables of
    // colour-science/colour, BSD-3). In steps of 10 nm a tenth more.
    const off = chart24Spectra.map((spectrum, i) =>
      deltaE00(xyzToLab(xyzInD50(spectrum), d50White), chart24[i]!.labD50 as never),
    );
    expect(off.reduce((sum, value) => sum + value, 0) / off.length).toBeLessThan(1.1);
    expect(Math.max(...off)).toBeLessThan(1.9);
  });
});
