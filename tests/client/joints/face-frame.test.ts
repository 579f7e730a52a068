import { describe, expect, test } from "vitest";
import { jointLines } from "../../../analysis/joints/joint-lines.ts";
import type { FaceLayout } from "../../../analysis/leaf-parts.ts";
import { layoutOf, patternNames } from "../../../analysis/patterns.ts";
import { faceFrame, knobPlaces, lookedAt, ontoFace } from "../../../client/joints/face-frame.ts";

const face = { widthMm: 838, heightMm: 1981 };
/** The picture on a phone 360 px wide, and on one of 320. */
const phonesPx = [328, 288];
/** Least distance of two things to touch, px: a thumb's breadth. */
const thumbPx = 44;

describe("a face with knobs beside it", () => {
  test("is drawn to scale within a margin of 46 px", () => {
    const { mmPerPx, marginMm, viewBox } = faceFrame(face, 328);
    expect(mmPerPx).toBeCloseTo(838 / (328 - 92), 9);
    expect(marginMm / mmPerPx).toBeCloseTo(46, 9);
    const [left, top, width, height] = viewBox.split(" ").map(Number);
    expect([left, top]).toEqual([-marginMm, -marginMm]);
    expect(width).toBeCloseTo(328 * mmPerPx, 6);
    expect(height).toBeCloseTo(1981 + 2 * marginMm, 6);
  });

  test.each(patternNames)("%s: no two knobs are nearer than a thumb is broad, and none lies on the face", (name) => {
    const layout = layoutOf(name, face.widthMm, face.heightMm) as FaceLayout;
    const lines = jointLines(layout);
    for (const widthPx of phonesPx) {
      const { mmPerPx, marginMm } = faceFrame(face, widthPx);
      const knobs = knobPlaces(
        lines,
        lines.map(({ atMm }) => atMm),
        face,
        marginMm,
      );
      expect(knobs).toHaveLength(lines.length);
      for (const [index, [x, y]] of knobs.entries()) {
        expect(x > 0 && x < face.widthMm && y > 0 && y < face.heightMm).toBe(false);
        for (const [x2, y2] of knobs.slice(index + 1))
          expect(Math.max(Math.abs(x - x2), Math.abs(y - y2)) / mmPerPx).toBeGreaterThanOrEqual(thumbPx);
      }
    }
  });

  test("a knob goes with its line and keeps its side", () => {
    const lines = jointLines(layoutOf("four-panel", 838, 1981) as FaceLayout);
    const places = lines.map(({ atMm }) => atMm);
    const before = knobPlaces(lines, places, face, 160);
    const after = knobPlaces(lines, places.with(0, 400), face, 160);
    expect(after[0]).toEqual([400, before[0]?.[1]]);
    expect(after.slice(1)).toEqual(before.slice(1));
  });
});

describe("a line", () => {
  const [stile, , , , rail] = jointLines(layoutOf("four-panel", 838, 1981) as FaceLayout);
  if (!stile || !rail) throw new Error("no lines");

  test("is looked at beside the pointer, or in its middle where the pointer holds the knob", () => {
    expect(lookedAt(stile, 100, [95, 700])).toEqual([100, 700]);
    expect(lookedAt(stile, 100, [100, -80])).toEqual([100, 1981 / 2]);
    expect(lookedAt(rail, 110, null)).toEqual([(105 + 733) / 2, 110]);
    expect(lookedAt(rail, 110, [300, 90])).toEqual([300, 110]);
  });

  test("is dragged no farther than the edge of the face", () => {
    expect([-5, 400, 900].map((at) => ontoFace(stile, at, face))).toEqual([0, 400, 838]);
    expect([-5, 1900, 2000].map((at) => ontoFace(rail, at, face))).toEqual([0, 1900, 1981]);
  });
});
