import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { bend } from "../../../analysis/lens.ts";
import { fitRow, type SeenLeaf } from "../../../analysis/locate/row-fit.ts";
import { free, leafSpread } from "../../../analysis/locate/row-pose.ts";
import type { Point, Quad } from "../../../analysis/pixels.ts";
import { apart, type Camera, cornersOf, ideal, lensOf, type Sheet } from "./drawn-scene.ts";

const frame = { width: 2600, height: 1950 };
const camera: Camera = { ...frame, pxPerMm: 0.7, lookAtMm: [1210, 1030], yaw: 5, roll: 1, k1: 0.012 };
const sheets: Sheet[] = [726, 826, 726].map((widthMm, i) => ({
  atMm: [i * 850, 0],
  widthMm,
  heightMm: 2040,
  colour: () => [0, 0, 0],
}));

/** Places along the four sides as the lens shows them, each moved outwards by `outPx`. */
const sidesOf = (
  { atMm: [x, y], widthMm, heightMm }: Sheet,
  outPx: (side: number, share: number) => number,
): Point[][] => {
  const corners: Quad = [
    ideal(camera, [x, y]),
    ideal(camera, [x + widthMm, y]),
    ideal(camera, [x + widthMm, y + heightMm]),
    ideal(camera, [x, y + heightMm]),
  ];
  return corners.map((from, k) => {
    const to = corners[((k + 1) % 4) as 0];
    const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
    const outward = [(to[1] - from[1]) / length, -(to[0] - from[0]) / length] as const;
    return Array.from({ length: 16 }, (_, i): Point => {
      const share = (i + 0.5) / 16;
      const out = outPx(k, share);
      return bend(lensOf(camera), [
        from[0] + (to[0] - from[0]) * share + outward[0] * out,
        from[1] + (to[1] - from[1]) * share + outward[1] * out,
      ]);
    });
  });
};

const rowOf = (outPx: (leaf: number, side: number, share: number) => number, roughPx = 0): SeenLeaf[] =>
  sheets.map((sheet, i) => ({
    widthMm: sheet.widthMm,
    heightMm: sheet.heightMm,
    corners: cornersOf(camera, sheet).map(
      ([x, y], k): Point => [x + roughPx * (k - 1.5), y - roughPx],
    ) as unknown as Quad,
    sides: sidesOf(sheet, (side, share) => outPx(i, side, share)),
  }));

const worst = (leaves: readonly { readonly corners: Quad }[]): number =>
  Math.max(...leaves.map(({ corners }, i) => apart(corners, cornersOf(camera, sheets[i]!))));

describe("a row of three through a bowed lens", () => {
  test("exact places give back the corners and the lens, from a start some px off", () => {
    fc.assert(
      fc.property(fc.double({ min: -5, max: 5, noNaN: true }), (rough) => {
        const { leaves, lens } = fitRow(
          rowOf(() => 0, rough),
          frame,
          lensOf({ ...camera, k1: 0 }),
          2,
        );
        // The prior of the bow draws it a tenth towards none.
        return worst(leaves) < 0.3 && Math.abs(lens.k1 - 0.012) < 0.002 && leaves.every(({ strain }) => strain < 0.1);
      }),
      { seed: 7, numRuns: 20 },
    );
  });

  test("a strip of shadow outside the upright sides, wider at their ends, neither bends the lens nor moves the corners", () => {
    const strip = (_leaf: number, side: number, share: number) => (side % 2 === 1 ? 6 * (share - 0.5) ** 2 : 0);
    const { leaves, lens } = fitRow(rowOf(strip), frame, lensOf({ ...camera, k1: 0 }), 2);
    expect(worst(leaves)).toBeLessThan(0.7);
    expect(Math.abs(lens.k1 - 0.012)).toBeLessThan(0.003);
  });

  test("a side that nobody saw is where the row says it is", () => {
    const seen = rowOf(() => 0);
    const hidden = seen.map((leaf, i) => ({
      ...leaf,
      sides: leaf.sides.map((side, k) => (i === 1 && k === 1 ? [] : side)),
    }));
    expect(worst(fitRow(hidden, frame, lensOf({ ...camera, k1: 0 }), 2).leaves)).toBeLessThan(0.5);
  });
});

test("only where a leaf stands is left free of a prior", () => {
  expect(leafSpread.map((spread) => spread === free)).toEqual([true, true, false, false, false, false, false, false]);
});
