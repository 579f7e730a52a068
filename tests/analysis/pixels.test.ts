import { expect, test } from "vitest";
import { turnedPixels } from "../../analysis/pixels.ts";
import { asSeen, painted, storedTurned } from "../support/photo-files.ts";

const upright = painted(5, 3, (x, y) => [10 * x, 10 * y, 100 + x + y]);

test.each([1, 2, 3, 4, 5, 6, 7, 8])("a photo stored in orientation %i is seen upright", (orientation) => {
  const { data, width, height } = storedTurned(upright, orientation);
  expect(asSeen(turnedPixels(data, width, height, orientation, "srgb"))).toEqual(upright);
});

test.each([0, 9])("an orientation that is none, %i, leaves it as it is stored", (orientation) => {
  expect(asSeen(turnedPixels(upright.data, 5, 3, orientation, "srgb"))).toEqual(upright);
});
