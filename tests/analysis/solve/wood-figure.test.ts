import { describe, expect, it } from "vitest";
import { normalFrom } from "../../../analysis/algebra/seeded-random.ts";
import type { CellSample, PhotoSample } from "../../../analysis/sample/photo-sample.ts";
import { observeCells } from "../../../analysis/solve/observed-cells.ts";
import { estimateWood } from "../../../analysis/solve/wood-figure.ts";

/** Panels of 8 x 24 cells whose figure runs on over squares of `run` cells. */
const photos = (run: number, deviation: number): PhotoSample[] => {
  const normal = normalFrom(9);
  return Array.from({ length: 12 }, (_, i) => {
    const figure = Array.from({ length: 24 * 8 }, () => deviation * normal());
    const cells = Array.from({ length: 24 * 8 }, (__, cell): CellSample => {
      const [row, column] = [Math.floor(cell / 8), cell % 8];
      const light = 0.3 * Math.exp(figure[Math.floor(row / run) * 8 + Math.floor(column / run)]!);
      return [cell, light, light, light, 0, -0.2 + 0.05 * column, -0.6 + 0.05 * row, 1];
    });
    const part = { name: "panel", kind: "panel", grain: "v", columns: 8, cells } as const;
    return {
      photo: `p${i}`,
      camera: "test",
      encoding: "srgb",
      faces: [{ leaf: `W${i}`, face: "A", parts: [part] }],
      references: [],
    };
  });
};

const woodOf = (samples: readonly PhotoSample[]) => estimateWood(observeCells(samples, new Map()));
const found = (run: number) => Math.sqrt(woodOf(photos(run, 0.03))("panel")[0]);

describe("the figure of the wood", () => {
  it("is the spread of the cells where they are independent, and more where it runs on", () => {
    // A third: few blocks a part, the greatest of four is taken, and a smooth light takes some away.
    expect(Math.abs(found(1) / 0.03 - 1)).toBeLessThan(0.33);
    expect(Math.abs(found(4) / (0.03 * 4) - 1)).toBeLessThan(0.33);
  });

  it("is the usual one for a kind of part that no photo shows", () => {
    expect(woodOf(photos(1, 0.03))("rail")).toEqual(woodOf([])("rail"));
  });
});
