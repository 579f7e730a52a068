import { expect, test } from "vitest";
import { drawCalibrationRule } from "../../../../server/records/paper/calibration-rule.ts";
import { closeSheet, openSheet } from "../../../../server/records/paper/sheet.ts";
import { paintedRectangles } from "../painted.ts";
import { readPdf } from "../read-pdf.ts";

const mm = (pt: number): number => (pt * 25.4) / 72;

test("the rule is 100 mm from outer edge to outer edge, with a mark every 5 mm", async () => {
  const sheet = openSheet({ title: "Rule", date: "2026-03-03T10:00:00+00:00" });
  drawCalibrationRule(sheet, 55, 214);
  const pdf = await closeSheet(sheet, () => null);
  const [bars = []] = paintedRectangles(pdf);
  // 0.01 mm: pdf numbers are printed to hundredths of a point.
  expect(mm(Math.min(...bars.map(({ x }) => x)))).toBeCloseTo(55, 2);
  expect(mm(Math.max(...bars.map(({ x, w }) => x + w)))).toBeCloseTo(155, 2);
  const marks = bars.filter(({ w }) => mm(w) < 1);
  expect(marks).toHaveLength(21);
  for (const [i, { x, w }] of marks.entries()) if (i > 0 && i < 20) expect(mm(x + w / 2) - 55).toBeCloseTo(5 * i, 2);
  expect((await readPdf(pdf)).alts).toEqual(["A rule of 100 mm"]);
});
