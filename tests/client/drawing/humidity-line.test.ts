import { expect, test } from "vitest";
import { percentSpan, placePoint } from "../../../client/drawing/humidity-line.ts";

const frame = { width: 400, height: 200, left: 40, right: 10, top: 10, bottom: 30 };

test("the span holds all readings and the band, in whole tens", () => {
  expect(
    percentSpan(
      [
        { hours: 0, percent: 34 },
        { hours: 5, percent: 68 },
      ],
      [40, 60],
    ),
  ).toEqual([20, 80]);
  expect(percentSpan([{ hours: 0, percent: 99 }], [40, 60])).toEqual([30, 100]);
});

test("the first reading stands left, the last right, higher humidity higher up", () => {
  expect(placePoint({ hours: 0, percent: 20 }, 10, [20, 80], frame)).toEqual([40, 170]);
  expect(placePoint({ hours: 10, percent: 80 }, 10, [20, 80], frame)).toEqual([390, 10]);
  expect(placePoint({ hours: 0, percent: 50 }, 0, [20, 80], frame)).toEqual([215, 90]);
});
