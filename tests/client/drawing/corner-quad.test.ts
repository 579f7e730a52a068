import { expect, test } from "vitest";
import { isUprightQuad, middleQuad, moveCorner, type Quad } from "../../../client/drawing/corner-quad.ts";

const photo = { width: 1500, height: 2000 };
const leaf = { widthMm: 926, heightMm: 2040 };

test("one starts with a leaf of the right proportions in the middle of the photo", () => {
  const quad = middleQuad(photo, leaf);
  const [topLeft, topRight, , bottomLeft] = quad;
  expect((topRight[0] - topLeft[0]) / (bottomLeft[1] - topLeft[1])).toBeCloseTo(926 / 2040, 9);
  expect((topLeft[0] + topRight[0]) / 2).toBe(750);
  expect(isUprightQuad(quad)).toBe(true);
});

test("a dragged corner stays inside the photo and moves no other", () => {
  const before = middleQuad(photo, leaf);
  const after = moveCorner(before, 1, [1900, -50], photo);
  expect(after[1]).toEqual([1500, 0]);
  expect([after[0], after[2], after[3]]).toEqual([before[0], before[2], before[3]]);
});

test("crossed, dented and mirrored corners are no leaf", () => {
  const square: Quad = [
    [0, 0],
    [10, 0],
    [10, 10],
    [0, 10],
  ];
  const [a, b, c, d] = square;
  expect(isUprightQuad(square)).toBe(true);
  expect(isUprightQuad([b, a, c, d])).toBe(false);
  expect(isUprightQuad([b, a, d, c])).toBe(false);
  expect(isUprightQuad([a, b, [2, 2], d])).toBe(false);
});
