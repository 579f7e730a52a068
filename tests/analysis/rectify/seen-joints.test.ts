import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { uniformFrom } from "../../../analysis/algebra/seeded-random.ts";
import type { FaceLayout, Part, RectMm } from "../../../analysis/leaf-parts.ts";
import { layoutOf, type PatternName, patternNames } from "../../../analysis/patterns.ts";
import type { FaceGrid } from "../../../analysis/rectify/resample.ts";
import { seenLayout } from "../../../analysis/rectify/seen-joints.ts";

const cellMm = 2;

/** A face of this layout: wood with grain that runs along each part, joints 3 mm wide, mouldings with a light and a dark flank. */
const faceOf = ({ widthMm, heightMm, parts }: FaceLayout, joints: boolean, seed: number): FaceGrid => {
  const [width, height] = [Math.floor(widthMm / cellMm), Math.floor(heightMm / cellMm)];
  const random = uniformFrom(seed);
  const stripes = Array.from({ length: 4000 }, () => random() - 0.5);
  const tone = parts.map(() => 1 + (joints ? 0.06 * (random() - 0.5) : 0));
  const data = new Float32Array(width * height * 3);
  for (let row = 0; row < height; row++) {
    for (let column = 0; column < width; column++) {
      const [x, y] = [(column + 0.5) * cellMm, (row + 0.5) * cellMm];
      const k = parts.findIndex(
        ({ rectMm: [left, top, w, h] }) => x >= left && x < left + w && y >= top && y < top + h,
      );
      const across = joints && parts[k]?.grain === "h" ? y : x;
      const wander = Math.sin((joints && parts[k]?.grain === "h" ? x : y) / 90) * 6;
      const grain = 1 + 0.1 * stripes[Math.floor(across / 5 + wander + 100)]! + 0.04 * (random() - 0.5);
      let light = 0.25 * grain * (tone[k] ?? 1);
      if (joints && k < 0) light *= 0.7 + 0.5 * flank(parts, x, y);
      if (joints && nearBorder(parts, x, y)) light *= 0.75;
      data.set([light * 1.2, light, light * 0.7], (row * width + column) * 3);
    }
  }
  return { data, usable: new Uint8Array(width * height).fill(1), width, height, mmPerCell: cellMm };
};

/** Within a moulding, 0 on flanks that face down or right, 1 on the others. */
const flank = (parts: readonly Part[], x: number, y: number): number =>
  parts.some(
    ({ kind, rectMm: [left, top] }) => kind === "panel" && (x < left || y < top) && x > left - 20 && y > top - 20,
  )
    ? 0
    : 1;

const nearBorder = (parts: readonly Part[], x: number, y: number): boolean =>
  parts.some(({ rectMm: [left, top, w, h] }) => {
    const inside = x > left - 2 && x < left + w + 2 && y > top - 2 && y < top + h + 2;
    const near = Math.min(Math.abs(x - left), Math.abs(x - left - w), Math.abs(y - top), Math.abs(y - top - h));
    return inside && near < 1.5;
  });

/** The layout with the lines of each axis moved; lines a moulding apart move alike. */
const roughly = (layout: FaceLayout, move: (axis: number, index: number) => number): FaceLayout => {
  const moves = [0, 1].map((axis) => {
    const size = axis === 0 ? layout.widthMm : layout.heightMm;
    const lines = [
      ...new Set(
        layout.parts.flatMap(({ rectMm }) => [rectMm[axis as 0], rectMm[axis as 0] + rectMm[(axis + 2) as 2]]),
      ),
    ].sort((one, other) => one - other);
    let group = 0;
    return lines.map((at, i) => {
      if (i > 0 && at - lines[i - 1]! > 40) group++;
      return { at, by: at < 2 || at > size - 2 ? 0 : move(axis, group) };
    });
  });
  const moved = (axis: number, at: number): number => at + (moves[axis]!.find((one) => one.at === at)?.by ?? 0);
  const parts = layout.parts.map((part): Part => {
    const [x, y, w, h] = part.rectMm;
    const [left, top] = [moved(0, x), moved(1, y)];
    return { ...part, rectMm: [left, top, moved(0, x + w) - left, moved(1, y + h) - top] };
  });
  return { ...layout, parts };
};

const farthest = (one: FaceLayout, other: FaceLayout): number =>
  Math.max(
    ...one.parts.flatMap(({ rectMm: a }, i) => {
      const b = other.parts[i]!.rectMm;
      const edges = ([x, y, w, h]: RectMm) => [x, y, x + w, y + h];
      return edges(a).map((edge, k) => Math.abs(edge - edges(b)[k]!));
    }),
  );

const layoutNamed = (name: PatternName): FaceLayout => layoutOf(name, 826, 2040)!;

describe("lines of a pattern that is known only roughly", () => {
  for (const name of patternNames) {
    test(`${name}: off by up to 25 mm, drawn to within 3 mm of the joints`, () => {
      const made = layoutNamed(name);
      const face = faceOf(made, true, 11);
      fc.assert(
        fc.property(fc.array(fc.double({ min: -24, max: 24, noNaN: true }), { minLength: 40, maxLength: 40 }), (by) => {
          const rough = roughly(made, (axis, group) => by[(axis * 20 + group) % 40]!);
          return farthest(seenLayout(face, rough).layout, made) <= 3;
        }),
        { seed: 3, numRuns: 4 },
      );
    });
  }

  test("joints that cannot be seen move nothing: the wood's own figure is no joint", () => {
    for (const name of patternNames) {
      const made = layoutNamed(name);
      const { layout, lines } = seenLayout(faceOf(made, false, 5), made);
      expect(farthest(layout, made)).toBeLessThan(3);
      expect(Math.max(0, ...lines.map(({ clearness }) => clearness))).toBeLessThan(0.5);
    }
  });

  test("nothing usable, nothing moved", () => {
    const made = layoutNamed("four-panel");
    const face = faceOf(made, true, 2);
    const { layout, lines } = seenLayout({ ...face, usable: new Uint8Array(face.usable.length) }, made);
    expect(layout).toEqual(made);
    expect(lines.every(({ shiftMm, clearness }) => shiftMm === 0 && clearness === 0)).toBe(true);
  });
});
