import fc from "fast-check";
import { expect, test } from "vitest";
import { bend, plainLens, straighten } from "../../analysis/lens.ts";

const place = fc.tuple(fc.double({ min: 0, max: 4032, noNaN: true }), fc.double({ min: 0, max: 3024, noNaN: true }));

test("bending undoes straightening", () => {
  fc.assert(
    fc.property(place, fc.double({ min: -0.1, max: 0.1, noNaN: true }), (p, k1) => {
      const lens = { ...plainLens(4032, 3024), k1 };
      const back = bend(lens, straighten(lens, p));
      return Math.hypot(back[0] - p[0], back[1] - p[1]) < 0.01;
    }),
    { seed: 21 },
  );
});

test("half a diagonal from the centre, k1 moves by its own share", () => {
  const lens = { ...plainLens(800, 600), k1: 0.02 };
  expect(straighten(lens, [0, 0])).toEqual([-8, -6]);
  expect(straighten(plainLens(800, 600), [13, 17])).toEqual([13, 17]);
});
