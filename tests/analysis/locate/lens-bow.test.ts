import fc from "fast-check";
import { expect, test } from "vitest";
import { bend, plainLens } from "../../../analysis/lens.ts";
import { crossing, lensFromEdges, straightLine } from "../../../analysis/locate/lens-bow.ts";
import type { Point } from "../../../analysis/pixels.ts";

const plain = plainLens(3000, 4000);

/** Places along straight edges as a lens with this k1 shows them. */
const edges = (k1: number, stray = 0): Point[][] =>
  [
    [400, 200, 420, 3800],
    [2600, 300, 2550, 3700],
    [400, 250, 2600, 300],
    [420, 3700, 2550, 3800],
  ].map(([x0, y0, x1, y1]) =>
    Array.from({ length: 48 }, (_, i): Point => {
      const u = i / 47;
      const [x, y] = bend({ ...plain, k1 }, [x0! + (x1! - x0!) * u, y0! + (y1! - y0!) * u]);
      return [x + (i === 20 ? stray : 0), y];
    }),
  );

test("the bow of straight edges gives back the lens", () => {
  fc.assert(
    fc.property(
      fc.double({ min: -0.03, max: 0.03, noNaN: true }),
      (k1) => Math.abs(lensFromEdges(edges(k1), plain).k1 - k1) < 5e-4,
    ),
    { seed: 51 },
  );
});

test("a few short edges near the middle say nothing: the lens stays nearly plain", () => {
  const short = [Array.from({ length: 10 }, (_, i): Point => [1500 + (i % 2), 2000 + i])];
  expect(Math.abs(lensFromEdges(short, plain).k1)).toBeLessThan(0.002);
  expect(lensFromEdges([], plain)).toEqual(plain);
});

test("a stray place does not pull a line", () => {
  const [left, , top] = edges(0, 25);
  const corner = crossing(straightLine(left!, plain), straightLine(top!, plain));
  expect(Math.hypot(corner[0] - 400.3, corner[1] - 250)).toBeLessThan(0.5);
});
