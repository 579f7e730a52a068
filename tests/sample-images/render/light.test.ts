import { describe, expect, it } from "vitest";
import { daylightBetween, lamps } from "../../../sample-images/render/illuminant.ts";
import { type Light, lightAt } from "../../../sample-images/render/light.ts";

const light: Light = {
  daylight: daylightBetween(0.5),
  lamps: lamps.warm,
  lampShare: 0.5,
  lampSlope: [-0.4, 0],
  centreMm: [100, -900],
  slope: [0.1, 0],
  radial: 0.02,
};

const at = (x: number, y: number): readonly number[] => {
  const out = new Float64Array(2);
  lightAt(light, x, y, out);
  return [...out];
};

describe("the light of a photo", () => {
  it("is 1 at its centre, shared out between daylight and lamps", () => {
    expect(at(100, -900)).toEqual([0.5, 0.5]);
  });

  it("falls off and changes its mixture by the metre", () => {
    const [day, lamp] = at(1100, -900) as [number, number];
    expect(day + lamp).toBeCloseTo(1 + 0.1 - 0.02, 12);
    expect(lamp / (day + lamp)).toBeCloseTo(0.1, 12);
  });

  it("never holds less than nothing of either", () => {
    const [day, lamp] = at(3100, -900) as [number, number];
    expect(lamp).toBe(0);
    expect(day).toBeGreaterThan(0);
  });
});
