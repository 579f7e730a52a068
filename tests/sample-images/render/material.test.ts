import { describe, expect, it } from "vitest";
import { type Rgb, rgbOfLab65 } from "../../../sample-images/render/colour.ts";
import { demoLeaves } from "../../../sample-images/render/demo-leaves.ts";
import { type Material, rgbOfReflectance, smoothMaterial } from "../../../sample-images/render/material.ts";
import { type Spectrum, wavelengths } from "../../../sample-images/render/spectrum.ts";
import { woodMaterial } from "../../../sample-images/render/wood-reflectance.ts";

const reflectanceOf = (material: Material, rgb: Rgb): Spectrum =>
  wavelengths.map((_, i) => rgb[0] * material[0][i]! + rgb[1] * material[1][i]! + rgb[2] * material[2][i]!);

const colours: readonly Rgb[] = [
  [0.2, 0.11, 0.06],
  [0.62, 0.48, 0.33],
  [0.28, 0.11, 0.05],
  [0.05, 0.1, 0.3],
];

describe.each([
  ["smooth surfaces", smoothMaterial],
  ["wood", woodMaterial],
] as const)("spectra of %s", (_, material) => {
  it.each(colours)("have the true colour %f %f %f", (...rgb) => {
    rgbOfReflectance(reflectanceOf(material, rgb)).forEach((value, k) => {
      expect(value).toBeCloseTo(rgb[k]!, 10);
    });
  });
});

describe("a smooth surface", () => {
  it("that is grey reflects the same at all wavelengths", () => {
    for (const value of reflectanceOf(smoothMaterial, [0.18, 0.18, 0.18])) expect(value).toBeCloseTo(0.18, 10);
  });
});

describe("the wood of the demo", () => {
  const faces = demoLeaves.flatMap(({ id, faces: both }) => [
    [`${id}/A`, both.A.lab] as const,
    [`${id}/B`, both.B.lab] as const,
  ]);

  it.each(faces)("reflects more and more from blue to red, between black and white: %s", (_, lab) => {
    const reflectance = reflectanceOf(woodMaterial, rgbOfLab65(lab));
    reflectance.forEach((value, i) => {
      expect(value).toBeGreaterThan(0.02);
      expect(value).toBeLessThan(0.9);
      if (i > 0) expect(value, `${wavelengths[i]} nm`).toBeGreaterThan(reflectance[i - 1]!);
    });
  });
});
