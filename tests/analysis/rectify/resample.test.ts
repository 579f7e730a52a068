import { describe, expect, test } from "vitest";
import { plainLens } from "../../../analysis/lens.ts";
import { type Pixels, type Quad, turnedPixels, uprightPixels } from "../../../analysis/pixels.ts";
import { faceView } from "../../../analysis/rectify/face-view.ts";
import { resample } from "../../../analysis/rectify/resample.ts";
import { storedTurned } from "../../support/photo-files.ts";

const photo = (width: number, height: number, code: (x: number, y: number) => number): Pixels => {
  const data = new Uint8Array(width * height * 3);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) data.fill(code(x, y), (y * width + x) * 3, (y * width + x) * 3 + 3);
  return uprightPixels(data, width, height, "srgb");
};

const seen = (pixels: Pixels, corners: Quad, widthMm: number, heightMm: number, mmPerCell: number) =>
  resample(pixels, faceView(corners, { widthMm, heightMm }, plainLens(pixels.width, pixels.height))!, mmPerCell);

const askew: Quad = [
  [20, 30],
  [330, 20],
  [350, 560],
  [40, 580],
];

describe("linear light", () => {
  test("an even photo stays even: code 188 is 0.5029 of full scale (IEC 61966-2-1)", () => {
    const grid = seen(
      photo(400, 600, () => 188),
      askew,
      100,
      200,
      1,
    );
    expect([grid.width, grid.height]).toEqual([100, 200]);
    expect(grid.usable.every((flag) => flag === 1)).toBe(true);
    for (const value of grid.data) expect(value).toBeCloseTo(0.5029, 4);
  });

  test("fine black and white stripes mean half the light, not half the code", () => {
    const stripes = photo(800, 800, (x) => (x % 2 === 0 ? 0 : 250));
    const grid = seen(
      stripes,
      [
        [0, 0],
        [800, 0],
        [800, 800],
        [0, 800],
      ],
      100,
      100,
      1,
    );
    const half = ((250 / 255 + 0.055) / 1.055) ** 2.4 / 2;
    for (const value of grid.data) expect(value).toBeCloseTo(half, 5);
  });

  test("the mean over a face does not depend on the size of the cells", () => {
    const grain = photo(900, 900, (x, y) => 100 + ((x * 31 + y * 17) % 40));
    const square: Quad = [
      [10, 20],
      [880, 10],
      [870, 890],
      [30, 880],
    ];
    const mean = (mm: number): number => {
      const { data } = seen(grain, square, 200, 200, mm);
      return data.reduce((sum, value) => sum + value, 0) / data.length;
    };
    expect(mean(1) / mean(2)).toBeCloseTo(1, 2);
    expect(mean(2) / mean(4)).toBeCloseTo(1, 2);
  });
});

describe("places", () => {
  test("a mark lands where it lies on the face, from above and from below the grid's fineness", () => {
    for (const mmPerCell of [0.5, 2]) {
      const marked = photo(400, 600, (x, y) => (Math.hypot(x - 185, y - 300) < 12 ? 20 : 200));
      const grid = seen(
        marked,
        [
          [0, 0],
          [400, 0],
          [400, 600],
          [0, 600],
        ],
        200,
        300,
        mmPerCell,
      );
      let n = 0;
      let sx = 0;
      let sy = 0;
      for (let i = 0; i < grid.usable.length; i++) {
        if (grid.usable[i] === 0 || grid.data[i * 3]! > 0.2) continue;
        n++;
        sx += ((i % grid.width) + 0.5) * mmPerCell;
        sy += (Math.floor(i / grid.width) + 0.5) * mmPerCell;
      }
      expect(Math.abs(sx / n - 92.75)).toBeLessThan(0.5);
      expect(Math.abs(sy / n - 150.25)).toBeLessThan(0.5);
    }
  });

  test("what lies outside the photo is not usable, what lies inside is", () => {
    const grid = seen(
      photo(400, 600, () => 128),
      [
        [-100, 0],
        [300, 0],
        [300, 600],
        [-100, 600],
      ],
      100,
      150,
      1,
    );
    const row = [...grid.usable.subarray(50 * 100, 51 * 100)];
    expect(row.slice(0, 24).every((flag) => flag === 0)).toBe(true);
    expect(row.slice(26).every((flag) => flag === 1)).toBe(true);
  });

  test("one clipped pixel makes its cell unusable and leaves its light finite", () => {
    const grid = seen(
      photo(400, 400, (x, y) => (x === 202 && y === 201 ? 255 : 90)),
      [
        [0, 0],
        [400, 0],
        [400, 400],
        [0, 400],
      ],
      100,
      100,
      1,
    );
    const lost = grid.usable.reduce((n, flag) => n + 1 - flag, 0);
    expect(lost).toBe(1);
    expect(grid.usable[50 * 100 + 50]).toBe(0);
    expect(grid.data[(50 * 100 + 50) * 3]).toBeLessThan(0.3);
  });
});

describe("a photo stored turned or mirrored", () => {
  // Cells of 1 mm are bilinear here, of 2 mm a mean of four pixels, of 4 mm of sixteen.
  test.each([2, 3, 4, 5, 6, 7, 8].flatMap((orientation) => [1, 2, 4].map((mm) => [orientation, mm] as const)))(
    "gives the same face as upright, orientation %i, cells of %i mm",
    (orientation, mmPerCell) => {
      const upright = photo(300, 500, (x, y) => 60 + ((x * 31 + y * 17) % 140));
      const stored = storedTurned(upright, orientation);
      const turned = turnedPixels(stored.data, stored.width, stored.height, orientation, "srgb");
      const corners: Quad = [
        [-4, 30],
        [240, 20],
        [260, 460],
        [20, 470],
      ];
      const one = seen(upright, corners, 240, 440, mmPerCell);
      const other = seen(turned, corners, 240, 440, mmPerCell);
      expect(other.usable).toEqual(one.usable);
      // Taps are placed anew every tile of cells, and tiles lie otherwise: a few fall on the next pixel.
      const off = one.data.map((light, i) => Math.abs(light - (other.data[i] ?? Number.NaN)));
      expect(off.reduce((sum, value) => sum + value, 0) / off.length).toBeLessThan(0.001);
    },
  );
});
