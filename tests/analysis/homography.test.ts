import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { compose, fitHomography, invert, project, worstMisfit } from "../../analysis/homography.ts";
import type { Point } from "../../analysis/pixels.ts";
import { leafPxToMm, photoPair, squareToTrapezoid } from "../published/homography-points.ts";

describe("published homographies", () => {
  for (const [name, known] of Object.entries({ squareToTrapezoid, leafPxToMm })) {
    test(name, () => {
      const h = fitHomography(known.from, known.to)!;
      h.forEach((value, i) => {
        expect(value / (known.matrix[i] || 1)).toBeCloseTo(known.matrix[i] === 0 ? 0 : 1, 10);
      });
      for (const [x, y, u, v] of known.checks) {
        const [gotX, gotY] = project(h, [x, y]);
        expect(gotX).toBeCloseTo(u, 7);
        expect(gotY).toBeCloseTo(v, 7);
      }
    });
  }
  test("photo pair", () => {
    for (const [x, y, u, v] of photoPair.checks) {
      const [gotX, gotY] = project(photoPair.matrix, [x, y]);
      expect(gotX).toBeCloseTo(u, 4);
      expect(gotY).toBeCloseTo(v, 4);
    }
  });
});

const corner = (x: number, y: number) =>
  fc.tuple(
    fc.double({ min: x - 200, max: x + 200, noNaN: true }),
    fc.double({ min: y - 200, max: y + 200, noNaN: true }),
  );
const quad = fc.tuple(corner(300, 300), corner(1500, 300), corner(1500, 3000), corner(300, 3000));
const leaf: Point[] = [
  [0, 0],
  [926, 0],
  [926, 2040],
  [0, 2040],
];
const inside = fc.tuple(fc.double({ min: 0, max: 926, noNaN: true }), fc.double({ min: 0, max: 2040, noNaN: true }));

describe("properties", () => {
  test("there and back is the same place", () => {
    fc.assert(
      fc.property(quad, inside, (corners, point) => {
        const h = fitHomography(leaf, corners)!;
        const back = project(invert(h), project(h, point));
        return Math.hypot(back[0] - point[0], back[1] - point[1]) < 1e-6;
      }),
      { seed: 11 },
    );
  });
  test("more points of one homography give that homography; composing follows projecting", () => {
    fc.assert(
      fc.property(quad, fc.array(inside, { minLength: 4, maxLength: 12 }), (corners, more) => {
        const h = fitHomography(leaf, corners)!;
        const from = [...leaf, ...more];
        const again = fitHomography(
          from,
          from.map((p) => project(h, p)),
        )!;
        const twice = project(compose(invert(h), again), [400, 900]);
        return Math.hypot(twice[0] - 400, twice[1] - 900) < 1e-4;
      }),
      { seed: 12 },
    );
  });
  test("noise of many points averages out", () => {
    const h = fitHomography(leaf, leafPxToMm.from)!;
    const from: Point[] = [];
    for (let i = 0; i <= 10; i++) for (let j = 0; j <= 10; j++) from.push([i * 92.6, j * 204]);
    const fitted = fitHomography(
      from,
      from.map((p, i) => {
        const [x, y] = project(h, p);
        return [x + (i % 2 ? 0.5 : -0.5), y + (i % 3 ? 0.25 : -0.5)] as const;
      }),
    )!;
    const [x, y] = project(fitted, [463, 1020]);
    const [trueX, trueY] = project(h, [463, 1020]);
    expect(Math.hypot(x - trueX, y - trueY)).toBeLessThan(0.2);
  });
  test("the misfit is nothing for four points and the distance of the one that is off beyond", () => {
    const h = fitHomography(leaf, leafPxToMm.from)!;
    expect(worstMisfit(h, leaf, leafPxToMm.from)).toBeLessThan(1e-9);
    const [x, y] = project(h, [463, 1020]);
    expect(worstMisfit(h, [...leaf, [463, 1020]], [...leafPxToMm.from, [x + 3, y + 4]])).toBeCloseTo(5, 9);
  });
  test("three points on a line, or too few, are no homography", () => {
    expect(fitHomography(leaf.slice(0, 3), leaf.slice(0, 3))).toBeNull();
    expect(
      fitHomography(
        [
          [0, 0],
          [1, 0],
          [2, 0],
          [0, 1],
        ],
        [
          [0, 0],
          [1, 0],
          [1, 1],
          [0, 1],
        ],
      ),
    ).toBeNull();
  });
});
