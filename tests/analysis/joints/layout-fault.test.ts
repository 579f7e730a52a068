import { describe, expect, test } from "vitest";
import { jointLines, laidOnLines } from "../../../analysis/joints/joint-lines.ts";
import { layoutFault } from "../../../analysis/joints/layout-fault.ts";
import type { FaceLayout } from "../../../analysis/leaf-parts.ts";
import { layoutOf, patternNames } from "../../../analysis/patterns.ts";

const fourPanel = layoutOf("four-panel", 838, 1981) as FaceLayout;

/** The four-panel face with some lines put elsewhere: from where to where, mm. */
const put = (axis: "x" | "y", ...moves: readonly (readonly [from: number, to: number])[]): FaceLayout => {
  const lines = jointLines(fourPanel);
  const linesMm = lines.map(
    (line) => moves.find(([from]) => line.axis === axis && Math.abs(line.atMm - from) < 1)?.[1] ?? line.atMm,
  );
  return laidOnLines(fourPanel, lines, { linesMm, mouldingMm: null });
};

describe("how parts may lie on a face", () => {
  test.each(patternNames)("as the pattern %s has them", (name) => {
    for (const width of [610, 838, 926]) expect(layoutFault(layoutOf(name, width, 1981) as FaceLayout)).toBeNull();
  });

  test("narrow to 20 mm and not below", () => {
    expect(layoutFault(put("x", [105, 20]))).toBeNull();
    expect(layoutFault(put("x", [105, 20 - 1e-9]))).toBeNull();
    expect(layoutFault(put("x", [105, 19.5]))).toBe(
      "The stile left would be 19.5 mm wide: move one of its lines, so that at least 20 mm lie between them.",
    );
    expect(layoutFault(put("y", [951, 1129]))).toBe(
      "The rail mid would be 12.3 mm high: move one of its lines, so that at least 20 mm lie between them.",
    );
  });

  test("not with crossed lines", () => {
    expect(layoutFault(put("x", [369, 480]))).toBe(
      "Two lines of the muntin top cross: move one back past the other, so that at least 20 mm lie between them.",
    );
  });

  test("not beyond the edge of the leaf", () => {
    const said = "The stile left would lie outside the leaf, which is 838 x 1981 mm: move its line back onto the leaf.";
    expect(layoutFault(put("x", [105, -4]))).toBe(said);
    expect(layoutFault(put("x", [105, 900]))).toBe(said);
  });

  test("not over each other", () => {
    const [stile, other] = [fourPanel.parts[0], fourPanel.parts[2]];
    if (!stile || !other) throw new Error("no parts");
    const over = { ...fourPanel, parts: [stile, { ...other, rectMm: [85, 0, 628, 105] as const }] };
    expect(layoutFault(over)).toBe(
      "The stile left and the rail top would overlap by 20 mm: move the line between them.",
    );
  });
});
