import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { GateName } from "../../../analysis/intake/gate-limits.ts";
import { judgePicture, smallPicture } from "../../../analysis/intake/quality-gates.ts";
import { turnedPixels, uprightPixels } from "../../../analysis/pixels.ts";

interface Drawn {
  readonly width?: number;
  readonly height?: number;
  readonly dark?: number;
  readonly light?: number;
  /** Px over which an edge rises, across (x) and up (y). */
  readonly riseX?: number;
  readonly riseY?: number;
}

/** A light rectangle on a darker wall, its edges as soft as asked, with a little grain of noise. */
const draw = ({ width = 1600, height = 1200, dark = 70, light = 190, riseX = 1, riseY = 1 }: Drawn) => {
  const data = new Uint8Array(width * height * 3);
  const ramp = (d: number, rise: number): number => Math.min(1, Math.max(0, d / rise + 0.5));
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const inside =
        ramp(Math.min(x - width * 0.3, width * 0.7 - x), riseX) *
        ramp(Math.min(y - height * 0.1, height * 0.9 - y), riseY);
      const noise = ((x * 7919 + y * 104729) % 5) - 2;
      data.fill(
        Math.min(255, Math.max(0, dark + (light - dark) * inside + noise)),
        (y * width + x) * 3,
        (y * width + x) * 3 + 3,
      );
    }
  }
  return smallPicture(uprightPixels(data, width, height, "srgb"));
};

const failed = (drawn: Drawn): GateName[] =>
  judgePicture(draw(drawn))
    .filter(({ passed }) => !passed)
    .map(({ gate }) => gate);

describe("one picture for each gate", () => {
  test("a sharp, well lit picture passes", () => expect(failed({})).toEqual([]));
  test("too small", () => expect(failed({ width: 900, height: 700 })).toEqual(["too-small"]));
  test("too dark", () => expect(failed({ dark: 4, light: 18 })).toEqual(["too-dark"]));
  test("clipped all over", () => expect(failed({ dark: 255, light: 120 })).toEqual([]));
  test("clipped with the leaf", () => expect(failed({ dark: 258, light: 258 })).toEqual(["clipped"]));
  test("blurred", () => expect(failed({ riseX: 24, riseY: 24 })).toEqual(["blur"]));
  test("shaken sideways only", () => expect(failed({ riseX: 24 })).toEqual(["blur"]));
  test("every gate that fails tells what to do", () => {
    for (const { advice } of judgePicture(draw({ riseX: 24 }))) expect(advice).toMatch(/^[A-Z].*\.$/);
  });
});

test("the wider an edge rises, the larger the measured width", () => {
  const width = (rise: number): number =>
    judgePicture(draw({ riseX: rise, riseY: rise })).find(({ gate }) => gate === "blur")!.value;
  expect(width(2)).toBeLessThan(width(8));
  expect(width(8)).toBeLessThan(width(24));
});

test("wood grain alone is no sharp edge", () => {
  const data = new Uint8Array(1600 * 1200 * 3);
  for (let i = 0; i < data.length; i++) data[i] = 120 + (Math.floor(i / 3) % 7);
  const blur = judgePicture(smallPicture(uprightPixels(data, 1600, 1200, "srgb"))).find(({ gate }) => gate === "blur");
  expect(blur?.value).toBe(0);
});

test("shrinking keeps the mean, whatever the channels and however the pixels are stored", () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: 255 }),
      fc.constantFrom(3, 4),
      fc.integer({ min: 1, max: 8 }),
      (code, channels, orientation) => {
        const data = new Uint8Array(1700 * 40 * channels).fill(code);
        const picture =
          channels === 3
            ? turnedPixels(data, 1700, 40, orientation, "srgb")
            : { data, width: 1700, height: 40, first: 0, right: 4, down: 4 * 1700 };
        const { luma, photoLongestSidePx } = smallPicture(picture);
        return photoLongestSidePx === 1700 && luma.every((value) => value === code);
      },
    ),
    { seed: 31, numRuns: 20 },
  );
});
