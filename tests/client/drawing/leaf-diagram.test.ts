import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { boxAround, drawnBox, grainLines, placeInWords } from "../../../client/drawing/leaf-diagram.ts";
import { document } from "../support/brannoch-quay.ts";

const pattern = (id: string) => {
  const found = document.patterns.find((one) => one.id === id);
  if (!found) throw new Error(`no pattern ${id}`);
  return found;
};
const flush = pattern("W-926");
const panelled = pattern("S-838");

describe("a mark on the drawn leaf", () => {
  test("a tapped box lies on the face, as large as asked, centred where there is room", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 926, noNaN: true }),
        fc.double({ min: 0, max: 2040, noNaN: true }),
        fc.double({ min: 0.5, max: 2500, noNaN: true }),
        fc.double({ min: 0.5, max: 2500, noNaN: true }),
        (x, y, w, h) => {
          const box = boxAround({ x, y }, { w, h }, flush);
          expect(box.x).toBeGreaterThanOrEqual(0);
          expect(box.y).toBeGreaterThanOrEqual(0);
          expect(box.x + box.w).toBeLessThanOrEqual(926 + 1e-9);
          expect(box.y + box.h).toBeLessThanOrEqual(2040 + 1e-9);
          expect(box.w).toBe(Math.min(w, 926));
          if (x >= w / 2 && x + w / 2 <= 926) expect(box.x + box.w / 2).toBeCloseTo(x, 9);
        },
      ),
      { seed: 7 },
    );
  });

  test("a hair scratch is drawn large enough to see, round the same middle; a large mark as it is", () => {
    const seen = drawnBox({ x: 100, y: 200, w: 0.4, h: 90 }, 34);
    expect(seen).toEqual({ x: 100.2 - 17, y: 200, w: 34, h: 90 });
    expect(drawnBox({ x: 0, y: 0, w: 60, h: 50 }, 34)).toEqual({ x: 0, y: 0, w: 60, h: 50 });
  });

  test("its place is told by the part, or by thirds on a flush leaf", () => {
    expect(placeInWords(flush, { x: 880, y: 2010, w: 38, h: 22 })).toBe("lower right");
    expect(placeInWords(flush, { x: 440, y: 300, w: 60, h: 15 })).toBe("upper centre");
    expect(placeInWords(panelled, { x: 110, y: 1000, w: 10, h: 10 })).toBe("lock rail, left");
    expect(placeInWords(panelled, { x: 780, y: 30, w: 10, h: 10 })).toBe("right stile, upper third");
  });
});

test("grain lines run along the grain inside their part", () => {
  for (const part of panelled.parts)
    for (const [x1, y1, x2, y2] of grainLines(part)) {
      const [x, y, w, h] = part.rectMm;
      expect(part.grain === "v" ? x1 === x2 : y1 === y2).toBe(true);
      expect([x1 >= x, x2 <= x + w, y1 >= y, y2 <= y + h]).toEqual([true, true, true, true]);
    }
});
