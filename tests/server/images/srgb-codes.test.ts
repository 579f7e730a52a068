import { type Color, converter } from "culori";
import { expect, test } from "vitest";
import { picturedInSrgb, srgbCodes } from "../../../server/images/srgb-codes.ts";

const wood = Uint8Array.from([170, 120, 80, 96, 64, 40, 230, 210, 180, 12, 10, 8, 128, 128, 128]);

/** What culori makes of an 8-bit Display P3 picture, clipped to sRGB, not rounded. */
const byCulori = (codes: Uint8Array): number[] =>
  [...Array(codes.length / 3).keys()].flatMap((i) => {
    const [r = 0, g = 0, b = 0] = [...codes.subarray(3 * i, 3 * i + 3)].map((code) => code / 255);
    const seen = converter("rgb")({ mode: "p3", r, g, b } as Color);
    return [seen?.r, seen?.g, seen?.b].map((v) => 255 * Math.min(1, Math.max(0, v ?? Number.NaN)));
  });

test("code values of Display P3 become those of sRGB, as another engine converts them", () => {
  const seen = picturedInSrgb({ data: wood, encoding: "display-p3" });
  // Half a code for the rounding.
  byCulori(wood).forEach((code, i) => {
    expect(Math.abs((seen[i] ?? Number.NaN) - code)).toBeLessThan(0.51);
  });
});

test("a colour sRGB cannot hold is clipped and does not wrap", () => {
  const pure = Uint8Array.from([255, 0, 0, 0, 255, 0, 0, 0, 255]);
  const seen = picturedInSrgb({ data: pure, encoding: "display-p3" });
  expect([...seen]).toEqual([255, 0, 0, 0, 255, 0, 0, 0, 255]);
  expect([...srgbCodes(Float32Array.from([1.2, -0.1, 0.5]), "srgb")]).toEqual([255, 0, 188]);
});

test("a picture in sRGB stays as it is", () => {
  expect(picturedInSrgb({ data: wood, encoding: "srgb" })).toBe(wood);
});
