import { describe, expect, it } from "vitest";
import { daylightBetween, type Illuminant, lamps } from "../../../sample-images/render/illuminant.ts";
import { observerUnder } from "../../../sample-images/render/spectral-tables.ts";
import { dot, wavelengths } from "../../../sample-images/render/spectrum.ts";

const observer = observerUnder(wavelengths.map(() => 1));

/** Correlated colour temperature, K. Source: C. S. McCamy 1992 (from memory); good to some 10 K from 2,800 to 6,500 K. */
const temperatureOf = (light: Illuminant): number => {
  const [x, y, z] = observer.map((curve) => dot(curve, light)) as [number, number, number];
  const n = (x / (x + y + z) - 0.332) / (0.1858 - y / (x + y + z));
  return 449 * n ** 3 + 3525 * n ** 2 + 6823.3 * n + 5520.33;
};

describe("the lights of a site", () => {
  it.each([
    ["sun and sky", daylightBetween(0), 5003],
    ["north sky", daylightBetween(1), 6504],
    ["neutral lamps", lamps.neutral, 4000],
    ["warm lamps", lamps.warm, 2700],
  ] as const)("have the temperature they are sold or known by: %s", (_, light, wanted) => {
    // lamps of one class may differ by some 7 % (common practice, no source)
    expect(Math.abs(temperatureOf(light) / wanted - 1)).toBeLessThan(wanted > 4500 ? 0.005 : 0.07);
  });

  it("are equally bright", () => {
    for (const light of [daylightBetween(0.4), lamps.neutral, lamps.warm])
      expect(dot(observer[1], light)).toBeCloseTo(1, 10);
  });
});
