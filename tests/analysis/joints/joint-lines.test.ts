import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type JointLine, jointLines, laidOnLines, mouldingOf } from "../../../analysis/joints/joint-lines.ts";
import type { FaceLayout, Part, RectMm } from "../../../analysis/leaf-parts.ts";
import { layoutOf, type PatternName, patternNames } from "../../../analysis/patterns.ts";

const laid = (name: PatternName): FaceLayout => {
  const layout = layoutOf(name, 838, 1981);
  if (!layout) throw new Error(`no ${name}`);
  return layout;
};

const places = (lines: readonly JointLine[]): number[] => lines.map(({ atMm }) => atMm);

const moved = (layout: FaceLayout, move: (line: JointLine) => number, mouldingMm: number | null = null) => {
  const lines = jointLines(layout);
  return laidOnLines(layout, lines, { linesMm: lines.map(move), mouldingMm });
};

const rectOf = ({ parts }: FaceLayout, name: string): RectMm => {
  const part = parts.find((one) => one.name === name);
  if (!part) throw new Error(`no ${name}`);
  return part.rectMm;
};

const rounded = (rect: RectMm): number[] => rect.map((length) => Math.round(length * 1e6) / 1e6);

describe("the lines of a pattern", () => {
  test("of four panels are the sides of stiles, muntins and rails, each once", () => {
    const lines = jointLines(laid("four-panel"));
    const [x, y] = (["x", "y"] as const).map((axis) => places(lines.filter((line) => line.axis === axis)));
    // Inner width 838 - 2 x 105 = 628; a bay (628 - 100) / 2 = 264. Free height 1981 - 105 - 205 - 190 = 1481, four sevenths above.
    expect(x).toEqual([105, 369, 469, 733]);
    expect(y?.map(Math.round)).toEqual([105, 951, 1141, 1776]);
  });

  test.each([
    ["flush", 0, 0],
    ["one-panel", 2, 2],
    ["two-panel", 4, 2],
    ["three-panel", 2, 6],
    ["four-panel", 4, 4],
    ["six-panel", 4, 6],
    ["five-horizontal", 2, 10],
    ["boarded", 6, 0],
    ["ladder", 2, 8],
    ["glazed", 2, 2],
  ] as const)("of %s: %d up the face, %d across", (name, up, across) => {
    const lines = jointLines(laid(name));
    expect(lines.filter(({ axis }) => axis === "x")).toHaveLength(up);
    expect(lines.filter(({ axis }) => axis === "y")).toHaveLength(across);
  });

  test("a board's two sides are one joint, between it and the next", () => {
    const [first] = jointLines(laid("boarded"));
    expect(first?.sides.map(({ part, end }) => [part, end])).toEqual([
      ["board-1", "end"],
      ["board-2", "start"],
    ]);
    expect([first?.fromMm, first?.toMm]).toEqual([0, 1981]);
  });

  test("a muntin's line reaches from rail to rail, and holds muntins and panels at their moulding", () => {
    const muntin = jointLines(laid("four-panel")).find(({ atMm }) => atMm === 369);
    expect([muntin?.fromMm, muntin?.toMm]).toEqual([105, 1776]);
    expect(muntin?.sides.map(({ part, insetMm }) => [part, insetMm]).toSorted()).toEqual([
      ["muntin-bottom", 0],
      ["muntin-top", 0],
      ["panel-bottom-left", 16],
      ["panel-top-left", 16],
    ]);
  });

  test("a panel without a frame near it has lines of its own", () => {
    const lone: Part = { name: "panel", kind: "panel", grain: "v", rectMm: [200, 300, 400, 900] };
    const lines = jointLines({ widthMm: 838, heightMm: 1981, parts: [lone] });
    expect(places(lines)).toEqual([200, 600, 300, 1200]);
  });
});

describe("a face on its lines", () => {
  test.each(patternNames)("%s stays as it was while no line is put elsewhere", (name) => {
    const layout = laid(name);
    expect(moved(layout, ({ atMm }) => atMm).parts.map(({ rectMm }) => rounded(rectMm))).toEqual(
      layout.parts.map(({ rectMm }) => rounded(rectMm)),
    );
  });

  test("a stile made narrower takes rails and panels with it, and leaves the rest", () => {
    const layout = laid("four-panel");
    const narrow = moved(layout, ({ axis, atMm }) => (axis === "x" && atMm === 105 ? 95 : atMm));
    expect(rounded(rectOf(narrow, "stile-left"))).toEqual([0, 0, 95, 1981]);
    expect(rounded(rectOf(narrow, "rail-top"))).toEqual([95, 0, 638, 105]);
    expect(rounded(rectOf(narrow, "panel-top-left")).slice(0, 3)).toEqual([111, 121, 242]);
    const untouched = (name: string) => expect(rounded(rectOf(narrow, name))).toEqual(rounded(rectOf(layout, name)));
    for (const name of ["stile-right", "muntin-top", "panel-top-right", "panel-bottom-right"]) untouched(name);
  });

  test("one moulding holds for all panels", () => {
    const layout = laid("six-panel");
    expect(mouldingOf(jointLines(layout))).toBe(16);
    const broad = moved(layout, ({ atMm }) => atMm, 40);
    expect(mouldingOf(jointLines(broad))).toBeCloseTo(40, 9);
    for (const { kind, name, rectMm } of layout.parts) {
      const [x, y, w, h] = rectMm;
      const wanted: RectMm = kind === "panel" ? [x + 24, y + 24, w - 48, h - 48] : rectMm;
      expect(rounded(rectOf(broad, name))).toEqual(rounded(wanted));
    }
    expect(mouldingOf(jointLines(laid("glazed")))).toBeNull();
  });

  test("lines put elsewhere are found again where they were put, and nothing else of the parts changes", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...patternNames),
        fc.array(fc.double({ min: -9, max: 9, noNaN: true }), { minLength: 12, maxLength: 12 }),
        (name, shifts) => {
          const layout = laid(name);
          const before = jointLines(layout);
          const linesMm = before.map(({ atMm }, index) => atMm + (shifts[index] ?? 0));
          const after = laidOnLines(layout, before, { linesMm, mouldingMm: null });
          const found = jointLines(after);
          expect(found.map(({ sides }) => sides.map(({ part, end }) => `${part} ${end}`))).toEqual(
            before.map(({ sides }) => sides.map(({ part, end }) => `${part} ${end}`)),
          );
          for (const [index, { atMm }] of found.entries()) expect(atMm).toBeCloseTo(linesMm[index] ?? Number.NaN, 6);
          const told = ({ parts }: FaceLayout) => parts.map(({ name: part, kind, grain }) => [part, kind, grain]);
          expect(told(after)).toEqual(told(layout));
        },
      ),
      { seed: 11, numRuns: 150 },
    );
  });
});
