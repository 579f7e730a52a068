import { expect, test } from "vitest";
import { blockSums } from "../../analysis/block-means.ts";
import { turnedPixels, uprightPixels } from "../../analysis/pixels.ts";
import { painted, type Rgb, storedTurned } from "../support/photo-files.ts";

test("a block's sum is that of the two lines read in it", () => {
  // Codes rise by 1 a row: of a block of 4 rows the second and the last are read.
  const { data } = painted(8, 4, (x, y): Rgb => [10 * x + y, 100 + y, 200]);
  const { red, green, blue, width, height, pixels } = blockSums(uprightPixels(data, 8, 4, "srgb"), 4);
  expect([width, height, pixels]).toEqual([2, 1, 8]);
  expect([...red]).toEqual([2 * (0 + 10 + 20 + 30) + 4 * (1 + 3), 2 * (40 + 50 + 60 + 70) + 4 * (1 + 3)]);
  expect([...green]).toEqual([8 * 100 + 16, 8 * 100 + 16]);
  expect([...blue]).toEqual([1600, 1600]);
});

test.each([1, 2, 3, 4, 5, 6, 7, 8])("blocks lie upright, the picture stored in orientation %i", (orientation) => {
  const upright = painted(12, 9, (x, y): Rgb => [20 * Math.floor(x / 3), 60 * Math.floor(y / 3), 7]);
  const { data, width, height } = storedTurned(upright, orientation);
  const sums = blockSums(turnedPixels(data, width, height, orientation, "srgb"), 3);
  expect([sums.width, sums.height, sums.pixels]).toEqual([4, 3, 6]);
  expect([...sums.red]).toEqual([0, 120, 240, 360, 0, 120, 240, 360, 0, 120, 240, 360]);
  expect([...sums.green]).toEqual([0, 0, 0, 0, 360, 360, 360, 360, 720, 720, 720, 720]);
});

test("a strip narrower than a block at the right and the bottom is left away", () => {
  const { width, height } = blockSums(uprightPixels(new Uint8Array(11 * 8 * 3), 11, 8, "srgb"), 3);
  expect([width, height]).toEqual([3, 2]);
});
