import { describe, expect, it } from "vitest";
import type { FaceGrid } from "../../../analysis/rectify/resample.ts";
import { chart24 } from "../../../analysis/reference-card.ts";
import { sampleReference } from "../../../analysis/sample/reference-sample.ts";

const layout = chart24();
const place = { toPhoto: ([x, y]: readonly [number, number]) => [x, y] as const, photoWidth: 278, photoHeight: 190 };

/** Patch n has light n / 30, the rest of the sheet is black. */
const grid = (): FaceGrid => {
  const [width, height] = [layout.widthMm, layout.heightMm];
  const data = new Float32Array(width * height * 3);
  layout.patches.forEach(({ rectMm: [x, y, w, h] }, i) => {
    for (let row = y; row < y + h; row++) data.fill((i + 1) / 30, (row * width + x) * 3, (row * width + x + w) * 3);
  });
  return { data, usable: new Uint8Array(width * height).fill(1), width, height, mmPerCell: 1 };
};

describe("sampling a reference", () => {
  it("finds every patch of the chart and where it lies", () => {
    const sample = sampleReference("chart-1", layout, grid(), place);
    expect(sample.id).toBe("chart-1");
    expect(sample.patches).toHaveLength(24);
    sample.patches.forEach(({ rgb, lost }, i) => {
      expect(rgb[1]).toBeCloseTo((i + 1) / 30, 5);
      expect(lost).toBe(0);
    });
    expect(sample.patches[0]!.at[0]).toBeLessThan(0);
  });

  it("says how much of a patch was clipped, and drops one that is gone", () => {
    const clipped = grid();
    const clip = (right: number, bottom: number) => {
      for (let y = 0; y < bottom; y++) clipped.usable.fill(0, y * clipped.width, y * clipped.width + right);
    };
    clip(48, 60);
    clip(100, 25);
    const sample = sampleReference("chart-1", layout, clipped, place);
    expect(sample.patches.map(({ name }) => name)).not.toContain("patch-1");
    const second = sample.patches.find(({ name }) => name === "patch-2");
    expect(second?.lost).toBeGreaterThan(0.2);
  });
});
