import { describe, expect, test } from "vitest";
import { normalFrom } from "../../../analysis/algebra/seeded-random.ts";
import { srgbToXyz } from "../../../analysis/colour/encoding.ts";
import { grainFigure } from "../../../analysis/grain/figure.ts";
import type { Part } from "../../../analysis/leaf-parts.ts";
import type { FaceGrid } from "../../../analysis/rectify/resample.ts";

const upright: Part = { name: "panel", kind: "panel", grain: "v", rectMm: [0, 0, 300, 400] };
const lying: Part = { ...upright, grain: "h" };

/** A grey face whose lightness follows `wave` (mm), share of light; a little noise. */
const lined = (wave: (x: number, y: number) => number): FaceGrid => {
  const normal = normalFrom(9);
  const [width, height] = [300, 400];
  const data = new Float32Array(width * height * 3);
  for (let row = 0; row < height; row++)
    for (let column = 0; column < width; column++)
      data.fill(
        0.3 * (1 + wave(column + 0.5, row + 0.5) + 0.005 * normal()),
        3 * (row * width + column),
        3 * (row * width + column) + 3,
      );
  return { data, usable: new Uint8Array(width * height).fill(1), width, height, mmPerCell: 1 };
};

const sine = (distance: number, pitch: number): number => 0.1 * Math.sin((2 * Math.PI * distance) / pitch);

describe("grainFigure", () => {
  test.each([5, 8, 13])("straight lines %i mm apart, upright", (pitch) => {
    const figure = grainFigure(
      lined((x) => sine(x, pitch)),
      upright,
      srgbToXyz,
    );
    expect(figure?.directionDeg).toBeCloseTo(0, 0);
    expect(Math.abs(figure!.pitchMm! - pitch)).toBeLessThan(0.3);
    expect(figure?.figure).toBe("straight");
  });

  test.each([-8, 3, 10])("lines leaning %i degrees, on an upright part and on a lying one", (degrees) => {
    // Differences over two cells turn lines 9 mm apart towards the axes: 0.7 degrees at 10.
    const slack = 0.8;
    const angle = (degrees * Math.PI) / 180;
    const leaning = lined((x, y) => sine(x * Math.cos(angle) + y * Math.sin(angle), 9));
    expect(Math.abs(grainFigure(leaning, upright, srgbToXyz)!.directionDeg - degrees)).toBeLessThan(slack);
    const across = lined((x, y) => sine(y * Math.cos(angle) + x * Math.sin(angle), 9));
    const told = grainFigure(across, lying, srgbToXyz)!.directionDeg;
    // Going right these lines rise by the angle, so they are that much less than 90 from upright; read in -90..90.
    const expected = 90 - degrees > 90 ? -90 - degrees : 90 - degrees;
    expect(Math.abs(((told - expected + 270) % 180) - 90)).toBeLessThan(slack);
  });

  test("contrast: a sine of a tenth of the light has the L* spread that its light has", () => {
    // L* 61.7 at Y 0.3: slope 116/3 * 0.3^(1/3) = 25.9 a share; a sine of 0.1 has a spread of 0.0707 shares: 1.83, with the noise 1.84.
    const figure = grainFigure(
      lined((x) => sine(x, 8)),
      upright,
      srgbToXyz,
    );
    expect(figure?.contrastL).toBeCloseTo(1.84, 1);
  });

  test("arches are a crown", () => {
    const arches = lined((x, y) => sine(Math.hypot((x - 150) * 1, (y - 500) * 0.25), 14));
    expect(grainFigure(arches, upright, srgbToXyz)?.figure).toBe("crown");
  });

  test("a face without figure is plain, one not seen is null", () => {
    const plain = lined(() => 0);
    expect(grainFigure(plain, upright, srgbToXyz)).toMatchObject({ figure: "plain", pitchMm: null });
    plain.usable.fill(0);
    expect(grainFigure(plain, upright, srgbToXyz)).toBeNull();
  });

  test("a label or a handle on the part changes none of its figures beyond their own uncertainty", () => {
    const wood = lined((x) => sine(x, 8));
    const clean = grainFigure(wood, upright, srgbToXyz)!;
    const sticker = lined((x) => sine(x, 8));
    for (let row = 40; row < 85; row++)
      sticker.data.fill(row % 8 < 4 ? 0.85 : 0.1, 3 * (row * 300 + 60), 3 * (row * 300 + 130));
    const labelled = grainFigure(sticker, upright, srgbToXyz)!;
    expect(Math.abs(labelled.directionDeg - clean.directionDeg)).toBeLessThan(0.5);
    expect(labelled.figure).toBe("straight");
    expect(Math.abs(labelled.pitchMm! - 8)).toBeLessThan(0.3);
    // Three windows of seventy count up to three times: by at most a tenth of the squares, a twentieth of the contrast.
    expect(Math.abs(labelled.contrastL / clean.contrastL - 1)).toBeLessThan(0.1);
  });

  test("its own uncertainty holds how far the same wood differs from length to length", () => {
    // Lines that lean 3 degrees more every 65 mm down the part: directions from piece to piece differ by as much.
    const bending = lined((x, y) => sine(x - 0.0005 * y * y, 9));
    const { directionDeg } = grainFigure(bending, upright, srgbToXyz)!.u95;
    expect(directionDeg).toBeGreaterThan(3);
    const even = grainFigure(
      lined((x) => sine(x, 9)),
      upright,
      srgbToXyz,
    )!.u95;
    expect(even.directionDeg).toBeLessThan(0.5);
    expect(even.pitchMm).toBeLessThan(0.3);
  });

  test("no uncertainty where fewer than four of its pieces are seen", () => {
    const face = lined((x) => sine(x, 8));
    for (let row = 0; row < 230; row++) face.usable.fill(0, row * 300, (row + 1) * 300);
    expect(grainFigure(face, upright, srgbToXyz)?.u95).toEqual({
      directionDeg: null,
      pitchMm: null,
      contrastL: null,
      spreadDeg: null,
    });
  });
});
