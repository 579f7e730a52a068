import { describe, expect, it } from "vitest";
import type { FaceLayout } from "../../../analysis/leaf-parts.ts";
import type { Cover } from "../../../analysis/rectify/covers.ts";
import type { FaceGrid } from "../../../analysis/rectify/resample.ts";
import { sampleFace } from "../../../analysis/sample/face-sample.ts";

const layout: FaceLayout = {
  widthMm: 400,
  heightMm: 600,
  parts: [
    { name: "stile-left", kind: "stile", grain: "v", rectMm: [0, 0, 100, 600] },
    { name: "panel", kind: "panel", grain: "v", rectMm: [100, 0, 300, 600] },
  ],
};

/** Light 0.2 on the stile and 0.4 on the panel, brighter by a tenth from left to right over each cell of the grid's width. */
const grid = (light: (x: number, y: number) => number): FaceGrid => {
  const [width, height, mmPerCell] = [200, 300, 2];
  const data = new Float32Array(width * height * 3);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      data.fill(light((x + 0.5) * mmPerCell, (y + 0.5) * mmPerCell), (y * width + x) * 3, (y * width + x) * 3 + 3);
  return { data, usable: new Uint8Array(width * height).fill(1), width, height, mmPerCell };
};

const place = { toPhoto: ([x, y]: readonly [number, number]) => [x, y] as const, photoWidth: 400, photoHeight: 600 };
const name = { leaf: "W01", face: "A" };
const sample = (light: (x: number, y: number) => number, covers: readonly Cover[] = []) =>
  sampleFace(name, grid(light), layout, covers, place);

describe("sampling a face", () => {
  it("finds the light of each part in cells of about 60 mm, joints left out", () => {
    const { sample: face, tooFewCells } = sample((x) => (Math.abs(x - 100) < 5 ? 0.01 : x < 100 ? 0.2 : 0.4));
    expect(tooFewCells).toEqual([]);
    const [stile, panel] = face.parts;
    expect(stile!.columns).toBe(1);
    expect(panel!.columns).toBe(5);
    expect(stile!.cells).toHaveLength(10);
    expect(panel!.cells).toHaveLength(50);
    for (const [, red, green, blue, spread] of stile!.cells) {
      expect([red, green, blue]).toEqual([0.2, 0.2, 0.2]);
      expect(spread).toBeLessThan(0.001);
    }
    for (const [, red] of panel!.cells) expect(red).toBeCloseTo(0.4, 5);
  });

  it("gives each cell its place in the photo, in half diagonals from the centre", () => {
    const { sample: face } = sample(() => 0.3);
    const half = Math.hypot(400, 600) / 2;
    const [cell, , , , , right, down] = face.parts[0]!.cells[0]!;
    expect(cell).toBe(0);
    expect(right).toBeCloseTo((50 - 200) / half, 3);
    expect(down).toBeCloseTo((10 + 58 / 2 - 300) / half, 3);
  });

  it("leaves out what a label covers, and keeps the numbers of the cells that remain", () => {
    const label: Cover = [
      [0, 0],
      [100, 0],
      [100, 130],
      [0, 130],
    ];
    const { sample: face } = sample((_, y) => (y < 130 ? 0.9 : 0.2), [label]);
    const cells = face.parts[0]!.cells;
    expect(cells.map(([cell]) => cell)).toEqual([2, 3, 4, 5, 6, 7, 8, 9]);
    for (const [, red] of cells) expect(red).toBeCloseTo(0.2, 5);
  });

  it("is not pulled by a glint", () => {
    const { sample: face } = sample((x, y) => (Math.hypot(x - 250, y - 300) < 8 ? 1 : 0.3));
    for (const [, red] of face.parts[1]!.cells) expect(red).toBeCloseTo(0.3, 4);
  });

  it("says which part was too little seen", () => {
    const cover: Cover = [
      [-10, -10],
      [110, -10],
      [110, 610],
      [-10, 610],
    ];
    const { sample: face, tooFewCells } = sample(() => 0.3, [cover]);
    expect(tooFewCells).toEqual(["stile-left"]);
    expect(face.parts.map(({ name: part }) => part)).toEqual(["panel"]);
  });
});

describe("a pattern whose joint lies elsewhere on the face", () => {
  const joint = (at: number) => (x: number) => (Math.abs(x - at) < 5 ? 0.01 : x < at ? 0.2 : 0.4);

  it("is measured where the joint is seen, cell by cell under the same numbers", () => {
    const right = sample(joint(100)).sample;
    const off = sample(joint(84)).sample;
    for (const [k, part] of off.parts.entries()) {
      expect(part.columns).toBe(right.parts[k]!.columns);
      expect(part.cells.map(([cell]) => cell)).toEqual(right.parts[k]!.cells.map(([cell]) => cell));
      for (const [, red, , , spread] of part.cells) {
        expect(red).toBeCloseTo(part.name === "panel" ? 0.4 : 0.2, 5);
        expect(spread).toBe(0);
      }
    }
  });
});
