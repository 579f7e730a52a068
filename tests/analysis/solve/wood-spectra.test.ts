import { describe, expect, it } from "vitest";
import { apply3, type Vector3 } from "../../../analysis/algebra/matrix3.ts";
import { deltaE00 } from "../../../analysis/colour/delta-e00.ts";
import { xyzToLab65 } from "../../../analysis/colour/lab.ts";
import { dot, type Spectrum, wavelengths, xyzInD65 } from "../../../analysis/colour/spectra.ts";
import { typicalResponse } from "../../../analysis/solve/typical-camera.ts";
import { usualWood, woodSeenAs, woodToXyz } from "../../../analysis/solve/wood-spectra.ts";

const seen = (spectrum: Spectrum): Vector3 => [
  dot(typicalResponse[0], spectrum),
  dot(typicalResponse[1], spectrum),
  dot(typicalResponse[2], spectrum),
];

/** Woods by another formula: a step from a low to a high reflectance. */
const step = (low: number, high: number, middle: number, width: number): Spectrum =>
  wavelengths.map((nm) => low + (high - low) / (1 + Math.exp(-(nm - middle) / width)));

describe("wood as the typical camera sees it", () => {
  it.each([
    ["pale", step(0.3, 0.7, 480, 55)],
    ["yellow", step(0.13, 0.55, 525, 62)],
    ["brown", step(0.06, 0.24, 590, 75)],
    ["red", step(0.05, 0.36, 585, 45)],
  ] as const)("has its colour in daylight, also when %s and of another family", (_, spectrum) => {
    const found = xyzToLab65(apply3(woodToXyz, seen(spectrum)));
    expect(deltaE00(found, xyzToLab65(xyzInD65(spectrum)))).toBeLessThan(0.6);
  });

  it("is found again from what the camera sees", () => {
    for (const scale of [1, 0.4]) {
      const camera = seen(usualWood).map((value) => scale * value) as unknown as Vector3;
      const spectrum = woodSeenAs(camera);
      seen(spectrum).forEach((value, k) => {
        expect(value).toBeCloseTo(camera[k]!, 10);
      });
      spectrum.forEach((value, i) => {
        expect(Math.abs(value - scale * usualWood[i]!)).toBeLessThan(0.03);
      });
    }
  });
});
