import { describe, expect, test } from "vitest";
import { apply3 } from "../../../analysis/algebra/matrix3.ts";
import { chart24LabD50 } from "../../../analysis/colour/chart24-values.ts";
import { encodeCurve, xyzToSrgb } from "../../../analysis/colour/encoding.ts";
import { lab65FromLab50, lab65ToXyz } from "../../../analysis/colour/lab.ts";
import type { FoundCode } from "../../../analysis/locate/found.ts";
import { locate } from "../../../analysis/locate/locate.ts";
import type { Quad } from "../../../analysis/pixels.ts";
import { cardCodeMm, cardCodesMm, chart24, greyCard, printedCard } from "../../../analysis/reference-card.ts";
import { apart, type Camera, cornersOf, leafAt, photograph, type Sheet } from "./drawn-scene.ts";

const wall = [205, 203, 198] as const;
const camera: Camera = { width: 1200, height: 1600, pxPerMm: 0.65, lookAtMm: [413, 1020], yaw: 5, roll: 2 };
const leaf = leafAt([0, 0], 826, 2040);
const layout = { widthMm: 826, heightMm: 2040, parts: [] };

const codes = chart24LabD50.map((lab) => {
  const rgb = apply3(xyzToSrgb, lab65ToXyz(lab65FromLab50(lab)));
  return rgb.map((value) => 255 * encodeCurve(Math.min(1, Math.max(0, value)))) as unknown as readonly [
    number,
    number,
    number,
  ];
});

const chartAt = (x: number, y: number, upsideDown = false): Sheet => {
  const { widthMm, heightMm, patches } = chart24();
  return {
    atMm: [x, y],
    widthMm,
    heightMm,
    colour: (u, v) => {
      const [p, q] = upsideDown ? [widthMm - u, heightMm - v] : [u, v];
      const i = patches.findIndex(({ rectMm: [a, b, w, h] }) => p >= a && q >= b && p < a + w && q < b + h);
      return codes[i] ?? [40, 40, 40];
    },
  };
};

const find = (sheets: readonly Sheet[], read: readonly FoundCode[] = []) =>
  locate(
    photograph(camera, wall, [leaf, ...sheets]),
    { leaves: [layout], references: [chart24(), greyCard(), printedCard] },
    read,
  ).references;

describe("the 24-patch chart", () => {
  for (const [name, x] of [
    ["beside the leaf", 920],
    ["on the leaf", 260],
  ] as const) {
    test(name, () => {
      const chart = chartAt(x, 900);
      const [found, ...others] = find([chart]);
      expect(others).toEqual([]);
      expect(found?.kind).toBe("chart");
      expect(apart(found!.corners, cornersOf(camera, chart))).toBeLessThan(1);
    });
  }
  test("upside down, its first corner is still that of the brown patch", () => {
    const chart = chartAt(920, 900, true);
    const [a, b, c, d] = cornersOf(camera, chart);
    expect(apart(find([chart])[0]!.corners, [c, d, a, b])).toBeLessThan(1);
  });
});

describe("the grey card", () => {
  const greyAt = (x: number): Sheet => ({ atMm: [x, 700], widthMm: 200, heightMm: 250, colour: () => [118, 116, 114] });
  for (const [name, x] of [
    ["beside the leaf", 900],
    ["on the leaf", 300],
  ] as const) {
    test(name, () => {
      const grey = greyAt(x);
      const found = find([grey]).filter(({ kind }) => kind === "grey");
      expect(found).toHaveLength(1);
      expect(apart(found[0]!.corners, cornersOf(camera, grey))).toBeLessThan(0.7);
    });
  }
  test("a black box, a blue box and a small grey sticker are none", () => {
    const box = (x: number, y: number, w: number, h: number, colour: readonly [number, number, number]): Sheet => ({
      atMm: [x, y],
      widthMm: w,
      heightMm: h,
      colour: () => colour,
    });
    expect(
      find([
        box(900, 300, 200, 250, [20, 20, 20]),
        box(900, 800, 200, 250, [30, 60, 150]),
        box(900, 1300, 70, 90, [118, 116, 114]),
      ]),
    ).toEqual([]);
  });
});

describe("the printed card", () => {
  const card: Sheet = { atMm: [880, 800], widthMm: 210, heightMm: 297, colour: () => [230, 230, 228] };
  const codeOf = (corner: 1 | 2 | 3 | 4, shiftPx = 0): FoundCode => {
    const [x, y] = cardCodesMm[corner - 1]!;
    const at = cornersOf(camera, {
      ...card,
      atMm: [card.atMm[0] + x, card.atMm[1] + y],
      widthMm: cardCodeMm,
      heightMm: cardCodeMm,
    });
    return { text: `LL/K7/${corner}`, corners: at.map(([u, v]) => [u + shiftPx, v]) as unknown as Quad };
  };
  test("from all four codes", () => {
    const [found] = find([card], [codeOf(1), codeOf(2), codeOf(3), codeOf(4)]);
    expect(found).toMatchObject({ kind: "card", id: "K7" });
    expect(apart(found!.corners, cornersOf(camera, card))).toBeLessThan(0.1);
    expect(found!.score).toBeGreaterThan(0.95);
  });
  test("from one code alone, roughly", () => {
    const [found] = find([card], [codeOf(3)]);
    expect(apart(found!.corners, cornersOf(camera, card))).toBeLessThan(1);
  });
  test("codes that do not fit one flat card lower the score", () => {
    const [found] = find([card], [codeOf(1), codeOf(2, 12), codeOf(3)]);
    expect(found!.score).toBeLessThan(0.6);
  });
  test("a leaf's label is no card", () => {
    expect(find([], [{ ...codeOf(1), text: "HTTP://LEAF/L01" }])).toEqual([]);
  });
});
