import { describe, expect, it } from "vitest";
import { phones } from "../../../sample-images/render/phone.ts";
import { sensitivitiesOf } from "../../../sample-images/render/sensor.ts";
import { wavelengths } from "../../../sample-images/render/spectrum.ts";

describe.each(Object.entries(phones))("the sensor of phone %s", (_, { filters }) => {
  const channels = sensitivitiesOf(filters);
  const peak = (k: number): number => wavelengths[channels[k]!.indexOf(Math.max(...channels[k]!))]!;

  it("peaks in the red, the green and the blue", () => {
    expect(peak(0)).toBeGreaterThanOrEqual(590);
    expect(peak(0)).toBeLessThanOrEqual(610);
    expect(peak(1)).toBeGreaterThanOrEqual(520);
    expect(peak(1)).toBeLessThanOrEqual(540);
    expect(peak(2)).toBeGreaterThanOrEqual(450);
    expect(peak(2)).toBeLessThanOrEqual(465);
  });

  it("sees no infra-red, from 700 nm", () => {
    for (const channel of channels)
      for (const [i, nm] of wavelengths.entries())
        if (nm >= 700) expect(channel[i]! / Math.max(...channel)).toBeLessThan(0.001);
  });
});
