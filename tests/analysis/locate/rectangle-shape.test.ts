import fc from "fast-check";
import { expect, test } from "vitest";
import { shapeMisfit, shapeOf, viewAngle } from "../../../analysis/locate/rectangle-shape.ts";
import { type Camera, cornersOf, leafAt } from "./drawn-scene.ts";

const camera = fc.record({
  width: fc.constant(3000),
  height: fc.constant(4000),
  pxPerMm: fc.double({ min: 0.6, max: 1.6, noNaN: true }),
  lookAtMm: fc.tuple(fc.double({ min: 0, max: 900, noNaN: true }), fc.double({ min: 700, max: 1300, noNaN: true })),
  yaw: fc.double({ min: -20, max: 20, noNaN: true }),
  roll: fc.double({ min: -8, max: 8, noNaN: true }),
});

test("through a camera of the supposed focal length the proportions come back exactly", () => {
  fc.assert(
    fc.property(camera, (shot: Camera) => {
      const corners = cornersOf(shot, leafAt([0, 0], 926, 2040));
      const { ratio, skew } = shapeOf(corners, shot);
      return (
        Math.abs((ratio * 2040) / 926 - 1) < 1e-9 &&
        Math.abs(skew) < 1e-9 &&
        shapeMisfit(corners, shot, 926, 2040) < 1e-9
      );
    }),
    { seed: 41 },
  );
});

test("a leaf of the next size, 100 mm narrower, misfits by far", () => {
  const shot: Camera = { width: 3000, height: 4000, pxPerMm: 1.5, lookAtMm: [400, 1000], yaw: 10 };
  expect(shapeMisfit(cornersOf(shot, leafAt([0, 0], 826, 2040)), shot, 926, 2040)).toBeGreaterThan(100);
});

test("looked at in the middle, the angle of view is that of the turn", () => {
  for (const yaw of [0, 10, 30]) {
    const shot: Camera = { width: 3000, height: 4000, pxPerMm: 1, lookAtMm: [413, 1020], yaw };
    // The mean of the corners is not quite the middle of the leaf in perspective: half a degree.
    expect(Math.abs(viewAngle(cornersOf(shot, leafAt([0, 0], 826, 2040)), shot) - yaw)).toBeLessThan(2);
  }
});
