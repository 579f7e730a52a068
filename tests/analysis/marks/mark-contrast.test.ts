import { expect, test } from "vitest";
import { apply3, type Vector3 } from "../../../analysis/algebra/matrix3.ts";
import { deltaE00 } from "../../../analysis/colour/delta-e00.ts";
import { srgbToXyz } from "../../../analysis/colour/encoding.ts";
import { xyzToLab65 } from "../../../analysis/colour/lab.ts";
import { markContrast } from "../../../analysis/marks/mark-contrast.ts";
import { ellipse, grainedFace } from "./grained-face.ts";

const within = { x: 0, y: 0, w: 300, h: 800 };
const box = { x: 130, y: 375, w: 40, h: 50 };

test("a stain: the contrast painted, its size to 4 mm", () => {
  const share: Vector3 = [-0.2, -0.24, -0.3];
  const face = grainedFace(1, ellipse(150, 400, 15, 20, share));
  const measured = markContrast(face, box, within, srgbToXyz);
  if (measured.kind !== "told-apart") throw new Error(measured.kind);
  const lightHere = 1 - 0.0004 * 150 - 0.0001 * 400;
  const wood: Vector3 = [0.42 * lightHere, 0.32 * lightHere, 0.2 * lightHere];
  const lab = (rgb: Vector3) => xyzToLab65(apply3(srgbToXyz, rgb));
  const painted = deltaE00(lab(wood), lab([wood[0] * 0.8, wood[1] * 0.76, wood[2] * 0.7]));
  expect(Math.abs(measured.contrastDE00 - painted)).toBeLessThan(0.6);
  expect(Math.abs(measured.box.w - 30)).toBeLessThan(4);
  expect(Math.abs(measured.box.h - 40)).toBeLessThan(4);
  expect(Math.abs(measured.areaMm2 - Math.PI * 15 * 20)).toBeLessThan(60);
});

test("nothing but grain is not told apart", () => {
  const measured = markContrast(grainedFace(2), box, within, srgbToXyz);
  expect(measured.kind).toBe("not-told-apart");
});

test("a dent, lit on one side and shaded on the other, does not cancel out", () => {
  const face = grainedFace(3, (x, y) => {
    const inside = (x - 150) ** 2 + (y - 400) ** 2 < 100;
    const share = inside ? (y < 400 ? -0.25 : 0.25) : 0;
    return [share, share, share];
  });
  const measured = markContrast(face, box, within, srgbToXyz);
  if (measured.kind !== "told-apart") throw new Error(measured.kind);
  expect(measured.contrastDE00).toBeGreaterThan(4);
});

test("a box outside what was seen", () => {
  const face = grainedFace(4);
  expect(markContrast(face, { x: 400, y: 10, w: 5, h: 5 }, within, srgbToXyz)).toEqual({ kind: "too-little-seen" });
  face.usable.fill(0);
  expect(markContrast(face, box, within, srgbToXyz)).toEqual({ kind: "too-little-seen" });
});
