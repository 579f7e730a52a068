import { describe, expect, test } from "vitest";
import { apply3, type Vector3 } from "../../../analysis/algebra/matrix3.ts";
import { deltaE00 } from "../../../analysis/colour/delta-e00.ts";
import { srgbToXyz } from "../../../analysis/colour/encoding.ts";
import { xyzToLab65 } from "../../../analysis/colour/lab.ts";
import { findMarks } from "../../../analysis/marks/find-marks.ts";
import { withoutCovers } from "../../../analysis/rectify/covers.ts";
import { ellipse, flushLayout, grainedFace } from "./grained-face.ts";

const found = (...face: Parameters<typeof grainedFace>) => findMarks(grainedFace(...face), flushLayout, srgbToXyz);

describe("findMarks", () => {
  test.each([1, 2, 3])("face %i of nothing but grain: at most one place as strange as 1", (seed) => {
    expect(found(seed).filter(({ score }) => score >= 1).length).toBeLessThanOrEqual(1);
  });

  test.each([1, 2, 3])("face %i: a dark stain of 30 x 40 mm comes first, its box within 8 mm, as a stain", (seed) => {
    const [first] = found(seed, ellipse(150, 400, 15, 20, [-0.15, -0.18, -0.25]));
    expect(first?.kind).toBe("stain");
    expect(first?.score).toBeGreaterThan(1.5);
    expect(Math.abs(first!.box.x - 135)).toBeLessThan(8);
    expect(Math.abs(first!.box.y - 380)).toBeLessThan(8);
    expect(Math.abs(first!.box.w - 30)).toBeLessThan(12);
    expect(Math.abs(first!.box.h - 40)).toBeLessThan(12);
  });

  test("paler wood is proposed as sanded through, with the contrast that was painted to 1", () => {
    const [first] = found(4, ellipse(80, 600, 12, 20, [0.16, 0.18, 0.26]));
    expect(first?.kind).toBe("sand-through");
    const lab = (rgb: Vector3) => xyzToLab65(apply3(srgbToXyz, rgb));
    const painted = deltaE00(lab([0.42, 0.32, 0.2]), lab([0.42 * 1.16, 0.32 * 1.18, 0.2 * 1.26]));
    expect(Math.abs(first!.contrastDE00 - painted)).toBeLessThan(1);
  });

  test("a scratch across the grain, 1 mm wide and 60 mm long, comes first", () => {
    const line = (x: number, y: number) =>
      Math.abs(y - 300 - 0.3 * (x - 100)) < 0.7 && x > 100 && x < 160 ? -0.25 : 0;
    const [first] = found(5, (x, y) => [line(x, y), line(x, y), line(x, y)]);
    expect(first?.kind).toBe("scratch");
    expect(Math.abs(first!.box.x - 100)).toBeLessThan(15);
    expect(first!.box.w).toBeGreaterThan(35);
  });

  test("a dark dot is proposed as natural", () => {
    const [first] = found(6, ellipse(200, 200, 2, 2, [-0.7, -0.75, -0.8]));
    expect(first?.kind).toBe("natural");
  });

  test("a chip out of the edge", () => {
    const [first] = found(7, ellipse(300, 500, 4, 10, [-0.4, -0.45, -0.5]));
    expect(first?.kind).toBe("edge-chip");
  });

  test("a label is passed over: it is too large and too pale for a mark, and so when it is covered", () => {
    const face = grainedFace(8, (x, y) => (x > 30 && x < 80 && y > 30 && y < 80 ? [1.2, 1.8, 3] : [0, 0, 0]));
    const label = [
      [30, 30],
      [80, 30],
      [80, 80],
      [30, 80],
    ] as const;
    const onLabel = ({ box }: { box: { x: number; y: number } }) =>
      box.x > 22 && box.x < 88 && box.y > 22 && box.y < 88;
    expect(findMarks(face, flushLayout, srgbToXyz).filter(onLabel)).toEqual([]);
    const covered = findMarks(withoutCovers(face, [label], 2), flushLayout, srgbToXyz);
    expect(covered.filter(({ score }) => score >= 1).length).toBeLessThanOrEqual(1);
  });

  test("a warmer light moves no place and hardly its score", () => {
    const stain = ellipse(150, 400, 15, 20, [-0.15, -0.18, -0.25]);
    const [first] = found(1, stain);
    const [warm] = found(1, stain, [1.15, 1, 0.8]);
    expect(warm?.box).toEqual(first?.box);
    expect(Math.abs(warm!.score - first!.score)).toBeLessThan(0.1 * first!.score);
  });
});
