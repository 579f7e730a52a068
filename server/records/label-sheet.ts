import { labelText } from "../../analysis/locate/label-code.ts";
import { drawCalibrationRule, ruleWords } from "./paper/calibration-rule.ts";
import { figure } from "./paper/figure.ts";
import { printable } from "./paper/lines.ts";
import { drawQr } from "./paper/qr-drawing.ts";
import { closeSheet, openSheet, pt, type Sheet } from "./paper/sheet.ts";

/** One label: the leaf, the opening it is planned for, what it is. */
export interface LeafLabel {
  readonly leaf: string;
  /** The random id in its code; null for a leaf from before labels had one, whose code is the older address. */
  readonly labelId: string | null;
  readonly opening: string | null;
  readonly item: string;
}

/** A sheet of labels by its numbers, mm. `start` passes over labels that are used; `nudge` shifts all of them. */
export interface LabelGrid {
  readonly columns: number;
  readonly rows: number;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly leftMm: number;
  readonly topMm: number;
  readonly pitchXMm: number;
  readonly pitchYMm: number;
  readonly start: number;
  readonly nudgeMm: readonly [x: number, y: number];
}

/** Twelve labels of 99.1 x 42.3 mm on A4, a usual size. Common practice, no source. */
export const twelveLabels: LabelGrid = {
  columns: 2,
  rows: 6,
  widthMm: 99.1,
  heightMm: 42.3,
  leftMm: 4.65,
  topMm: 21.6,
  pitchXMm: 101.6,
  pitchYMm: 42.3,
  start: 0,
  nudgeMm: [0, 0],
};

/** The text in a label's code: upper case, so that the code stays small. */
export const codeOfLabel = ({ leaf, labelId }: Pick<LeafLabel, "leaf" | "labelId">): string =>
  labelId === null ? `HTTPS://LEAFLEDGER.LOCAL/L/${leaf}` : labelText(labelId);

/** White round the code: four modules of the largest code that a leaf's code can need, mm. */
const quietMm = 5.5;

const drawLabel = (sheet: Sheet, label: LeafLabel, grid: LabelGrid, x: number, y: number): void => {
  const { doc, body } = sheet;
  const side = Math.min(grid.heightMm, grid.widthMm / 2) - 2 * quietMm;
  const frame = { x: pt(x + quietMm), y: pt(y + quietMm), w: pt(side), h: pt(side) };
  figure(sheet, `Code of leaf ${label.leaf}`, frame, () => drawQr(sheet, codeOfLabel(label), frame));
  const textX = pt(x + 2 * quietMm + side);
  const width = pt(grid.widthMm - side - 2 * quietMm - 3);
  const words = doc.struct("P", {}, () => {
    doc.fillColor("#000000").font("bold").fontSize(30);
    const size = Math.min(30, (30 * width) / doc.widthOfString(label.leaf));
    doc.fontSize(size).text(label.leaf, textX, pt(y + 5), { lineBreak: false });
    doc.font("text").fontSize(12);
    doc.text(label.opening ? `opening ${label.opening}` : "no opening yet", textX, pt(y + 17), {
      width,
      lineBreak: false,
    });
    doc.fontSize(8).text(printable(label.item, sheet.has), textX, pt(y + 23), { width, height: 22, ellipsis: true });
    doc
      .font("bold")
      .fontSize(12)
      .text("TOP ▲", textX, pt(y + 32), { width, lineBreak: false });
  });
  body.add(words);
};

/** The rule to measure after printing, on the strip under the last row, with what to do. */
const addRule = (sheet: Sheet): void => {
  const { doc, body } = sheet;
  drawCalibrationRule(sheet, 10, 283);
  const words = doc.struct("P", {}, () => {
    doc.fillColor("#000000").font("text").fontSize(8);
    doc.text(ruleWords, pt(115), pt(282), { width: pt(85) });
  });
  body.add(words);
};

/**
 * Leaf labels on A4 sheets as a PDF, one after the other from the grid's `start`. For the wrapping or the top edge:
 * tape on lacquer lifts it or leaves a patch (common practice, no source). `date` is ISO 8601.
 */
export const labelSheet = (
  labels: readonly LeafLabel[],
  date: string,
  grid: LabelGrid = twelveLabels,
): Promise<Buffer> => {
  const sheet = openSheet({ title: "Leaf labels", date, marginMm: { top: 0, side: 4.65, bottom: 0 } });
  const perPage = grid.columns * grid.rows;
  addRule(sheet);
  for (const [index, label] of labels.entries()) {
    const place = grid.start + index;
    if (place % perPage === 0 && index > 0) {
      sheet.doc.addPage();
      addRule(sheet);
    }
    const column = place % grid.columns;
    const row = Math.floor((place % perPage) / grid.columns);
    const [nudgeX, nudgeY] = grid.nudgeMm;
    const x = grid.leftMm + column * grid.pitchXMm + nudgeX;
    drawLabel(sheet, label, grid, x, grid.topMm + row * grid.pitchYMm + nudgeY);
  }
  return closeSheet(sheet, (page, of) => ({
    left: "Leaf labels: on the wrapping or the top edge, never on the lacquer",
    right: `sheet ${page} of ${of}, print at 100 %`,
    foot: "",
  }));
};
