import fc from "fast-check";
import { expect, test } from "vitest";
import { labelPlaces, labelRadius } from "../../../client/drawing/label-places.ts";

const face = { widthMm: 926, heightMm: 2040 };

test("the label of a mark alone stands right of it", () => {
  expect(labelPlaces([{ x: 100, y: 1000, w: 40, h: 20 }], face)).toEqual([{ x: 210, y: 1010 }]);
});

test("labels of marks in one corner do not lie on each other", () => {
  const corner = [890, 895, 900, 905].map((x, index) => ({ x, y: 2020 - 4 * index, w: 20, h: 10 }));
  const places = labelPlaces(corner, face);
  for (const [index, one] of places.entries())
    for (const other of places.slice(0, index))
      expect(Math.hypot(one.x - other.x, one.y - other.y)).toBeGreaterThanOrEqual(2 * labelRadius);
});

test("every label lies on the face", () => {
  const box = fc
    .tuple(fc.integer({ min: 0, max: 900 }), fc.integer({ min: 0, max: 2000 }))
    .map(([x, y]) => ({ x, y, w: 20, h: 20 }));
  fc.assert(
    fc.property(fc.array(box, { maxLength: 12 }), (boxes) => {
      for (const { x, y } of labelPlaces(boxes, face)) {
        expect(x).toBeGreaterThanOrEqual(labelRadius);
        expect(x).toBeLessThanOrEqual(face.widthMm - labelRadius);
        expect(y).toBeGreaterThanOrEqual(labelRadius);
        expect(y).toBeLessThanOrEqual(face.heightMm - labelRadius);
      }
    }),
    { seed: 11 },
  );
});
