import { cardCodeMm, cardCodesMm, cardWindowMm, printedCard } from "../../analysis/reference-card.ts";
import { drawCalibrationRule, ruleWords } from "./paper/calibration-rule.ts";
import { figure } from "./paper/figure.ts";
import { drawQr } from "./paper/qr-drawing.ts";
import { closeSheet, openSheet, pt, type Sheet } from "./paper/sheet.ts";

/** Share of black ink of each patch; null is bare paper. */
const inks: Record<string, number | null> = {
  "paper-left": null,
  "grey-25": 0.25,
  "grey-50": 0.5,
  "grey-75": 0.75,
  black: 1,
  "paper-right": null,
};

const greyOf = (ink: number): string => {
  const value = Math.round(255 * (1 - ink))
    .toString(16)
    .padStart(2, "0");
  return `#${value}${value}${value}`;
};

const line = (
  { doc, body }: Sheet,
  text: string,
  place: { x: number; y: number; width: number; size: number; bold?: boolean },
): void => {
  const paragraph = doc.struct("P", {}, () => {
    doc
      .font(place.bold ? "bold" : "text")
      .fontSize(place.size)
      .fillColor("#000000");
    doc.text(text, pt(place.x), pt(place.y), { width: pt(place.width), align: "center" });
  });
  body.add(paragraph);
};

const drawPatches = (sheet: Sheet): void => {
  const { doc } = sheet;
  for (const { name, rectMm } of printedCard.patches) {
    const [x, y, w, h] = rectMm.map(pt) as [number, number, number, number];
    const ink = inks[name] ?? null;
    figure(sheet, `Patch ${name}`, { x, y, w, h }, () => {
      if (ink === null) doc.rect(x, y, w, h).lineWidth(pt(0.5)).strokeColor("#000000").stroke();
      else doc.rect(x, y, w, h).fill(greyOf(ink));
    });
  }
};

const drawWindow = (sheet: Sheet): void => {
  const { doc } = sheet;
  const [x, y, w, h] = cardWindowMm.map(pt) as [number, number, number, number];
  figure(sheet, "Window for a grey card or a 24-patch chart", { x, y, w, h }, () => {
    doc.rect(x, y, w, h).lineWidth(0.4).strokeColor("#000000").stroke();
  });
};

/**
 * Our reference card on A4 as a PDF, drawn from the same geometry that the photos are read by: a code with the card's
 * own id in each corner, three greys, black and bare paper, a window for a grey card or a chart. `id` is 1 to 8 capital
 * letters and digits. `date` is ISO 8601.
 */
export const cardSheet = (id: string, date: string): Promise<Buffer> => {
  const sheet = openSheet({ title: `Reference card ${id}`, date, marginMm: { top: 0, side: 0, bottom: 0 } });
  for (const [index, [x, y]] of cardCodesMm.entries()) {
    const frame = { x: pt(x), y: pt(y), w: pt(cardCodeMm), h: pt(cardCodeMm) };
    figure(sheet, `Code ${index + 1} of card ${id}`, frame, () => drawQr(sheet, `LL/${id}/${index + 1}`, frame));
  }
  drawPatches(sheet);
  drawWindow(sheet);
  // Four modules round each code stay white.
  const middle = { x: 77, width: 56 };
  line(sheet, "Reference card", { ...middle, y: 16, size: 15, bold: true });
  line(sheet, id, { ...middle, y: 23, size: 26, bold: true });
  line(
    sheet,
    "Print on matt white paper at 100 %, not fitted to the page, and measure the rule below. Do not fold, keep it clean, print a new one when it is soiled.",
    { ...middle, y: 41, size: 8.5 },
  );
  line(sheet, "A grey card or a 24-patch chart may be clipped here", { x: 60, width: 90, y: 88, size: 8.5 });
  drawCalibrationRule(sheet, 55, 214.5);
  line(sheet, ruleWords, { ...middle, y: 221, size: 8.5 });
  line(
    sheet,
    "Best place: flat on the leaf's face, in the same light. Not over a mark, not shaded by a hand, all four codes in the picture. Photograph every leaf with the same sheet.",
    { ...middle, y: 243, size: 8.5 },
  );
  return closeSheet(sheet, () => null);
};
