import { expect, test } from "vitest";
import { regionsAbove } from "../../../analysis/marks/regions.ts";

test("pieces that touch by a corner are one, pieces at opposite borders are two; worked by hand", () => {
  // 6 cells a row
  const plane = Float32Array.from(
    [
      [0, 2, 0, 0, 0, 4],
      [3, 0, 0, 0, 0, 0],
      [0, 0, 0, 0, 9, 5],
      [0, 0, 0, 0, 4, 0],
    ].flat(),
  );
  const regions = regionsAbove(6, plane, 2);
  expect(regions.map(({ peak, cells }) => [peak, cells])).toEqual([
    [3, [1, 6]],
    [4, [5]],
    [9, [16, 17]],
  ]);
  expect(regions[2]).toMatchObject({ fromAlong: 4, toAlong: 6, fromAcross: 2, toAcross: 3 });
});
