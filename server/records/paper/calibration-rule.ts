import { figure } from "./figure.ts";
import { pt, type Sheet } from "./sheet.ts";

/** Length of the rule from outer edge to outer edge, mm. */
const ruleMm = 100;

/** What to do with the rule, as printed beside it. A millimetre in a hundred is what a tape is read to. */
export const ruleWords =
  "This rule is 100 mm long from end to end. If a tape shows 99 or 101, print again at 100 % (actual size).";

/**
 * A rule of exactly 100 mm with its top left corner at a place in mm: it shows whether a sheet was printed at full size. Painted as
 * bars, so that its ends are edges and not the middle of a line.
 */
export const drawCalibrationRule = (sheet: Sheet, leftMm: number, topMm: number): void => {
  const { doc } = sheet;
  const bar = (x: number, width: number, height: number): void => {
    doc.rect(pt(leftMm + x), pt(topMm), pt(width), pt(height)).fill("#000000");
  };
  figure(sheet, "A rule of 100 mm", { x: pt(leftMm), y: pt(topMm), w: pt(ruleMm), h: pt(4) }, () => {
    bar(0, ruleMm, 0.3);
    for (let mm = 0; mm <= ruleMm; mm += 5) {
      const length = mm % 50 === 0 ? 4 : mm % 10 === 0 ? 3 : 1.8;
      bar(mm === 0 ? 0 : mm === ruleMm ? ruleMm - 0.3 : mm - 0.15, 0.3, length);
    }
  });
};
