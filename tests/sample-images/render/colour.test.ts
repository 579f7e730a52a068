import { describe, expect, it } from "vitest";
import { chartBefore2014 } from "../../../sample-images/render/chart-values.ts";
import { decode, encode, lab65OfRgb, p3OfRgb, rgbOfLab50, rgbOfLab65 } from "../../../sample-images/render/colour.ts";

/** sRGB codes, Lab under D65 and under D50 (Bradford). Source: computed with culori 4.0.2 (MIT). */
const rows = [
  ["ffffff", [100, 0, 0], [100, 0, 0]],
  ["808080", [53.585013, 0, 0], [53.585014, 0, 0]],
  ["ff0000", [53.237116, 80.090114, 67.203264], [54.290543, 80.80492, 69.890988]],
  ["00ffff", [91.114752, -48.078888, -14.128985], [90.666013, -50.656511, -14.961667]],
  ["735244", [38.01621, 11.794749, 13.663859], [38.22324, 12.767027, 13.970679]],
  ["b98d5a", [61.743168, 10.464687, 33.509368], [62.09071, 12.702198, 33.84207]],
  ["d9c2a3", [79.602643, 3.351649, 18.581106], [79.802951, 4.893467, 18.784986]],
] as const;

const linear = (hex: string): [number, number, number] => {
  const code = (at: number): number => decode(Number.parseInt(hex.slice(at, at + 2), 16) / 255);
  return [code(0), code(2), code(4)];
};

describe("the renderer's own colour arithmetic", () => {
  it.each(rows)("takes #%s to its published Lab and back", (hex, lab65, lab50) => {
    const rgb = linear(hex);
    lab65OfRgb(rgb).forEach((v, k) => {
      expect(v).toBeCloseTo(lab65[k] ?? Number.NaN, 2);
    });
    rgbOfLab65(lab65).forEach((v, k) => {
      expect(v).toBeCloseTo(rgb[k] ?? Number.NaN, 4);
    });
    // culori and this file round the white of D50 in the fifth digit, hence 3 digits only
    rgbOfLab50(lab50).forEach((v, k) => {
      expect(v).toBeCloseTo(rgb[k] ?? Number.NaN, 3);
    });
  });

  it("keeps greys grey in Display P3, and draws its red inside it", () => {
    for (const v of [0.02, 0.18, 0.9]) for (const channel of p3OfRgb([v, v, v])) expect(channel).toBeCloseTo(v, 5);
    const red = p3OfRgb([1, 0, 0]);
    // sRGB red in Display P3 is 0.8225, 0.0332, 0.0171 in linear light (from memory)
    [0.8225, 0.0332, 0.0171].forEach((v, k) => {
      expect(red[k]).toBeCloseTo(v, 3);
    });
  });

  it("undoes its own curve", () => {
    for (let code = 0; code <= 255; code++) expect(encode(decode(code / 255)) * 255).toBeCloseTo(code, 6);
  });

  it("knows all 24 patches of the chart, the last row falling from white to black", () => {
    expect(chartBefore2014).toHaveLength(24);
    const lightness = chartBefore2014.slice(18).map(([L]) => L);
    expect(lightness).toEqual(lightness.toSorted((a, b) => b - a));
  });
});
