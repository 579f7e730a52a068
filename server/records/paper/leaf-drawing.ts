import type { Mark, Pattern } from "../../contract/leaf.ts";
import type { Frame } from "./figure.ts";
import { ink, type Sheet } from "./sheet.ts";

/** A mark is drawn to scale, but never smaller than this, so that it can be seen on paper. */
const leastPt = 4;

interface NumberedMark {
  readonly number: number;
  readonly box: Mark["box"];
}

/**
 * A face drawn to scale: its parts as lines, its marks as black boxes with a number beside each, TOP above, and the
 * hinge side as a thick line with three hinges when it is known.
 */
export const drawLeaf = (
  { doc }: Sheet,
  pattern: Pattern,
  marks: readonly NumberedMark[],
  hangingSide: "left" | "right" | null,
  { x, y, w, h }: Frame,
): void => {
  const scale = w / pattern.widthMm;
  doc.rect(x, y, w, h).fill("#ffffff");
  doc.lineWidth(0.5).strokeColor(ink.soft);
  for (const { rectMm, kind } of pattern.parts) {
    const [left, top, wide, high] = rectMm;
    doc.rect(x + left * scale, y + top * scale, wide * scale, high * scale);
    if (kind === "panel") doc.fillAndStroke(ink.tint, ink.soft);
    else doc.stroke();
  }
  doc.rect(x, y, w, h).lineWidth(1).strokeColor(ink.text).stroke();
  doc.font("bold").fontSize(6.5).fillColor(ink.text);
  doc.text("TOP", x, y - 9, { width: w, align: "center", lineBreak: false });
  if (hangingSide) {
    const edge = hangingSide === "left" ? x - 2 : x + w + 2;
    for (const share of [0.1, 0.5, 0.9]) doc.rect(edge - 1.2, y + h * share - 5, 2.4, 10).fill(ink.text);
  }
  for (const { number, box } of marks) {
    const wide = Math.max(leastPt, box.w * scale);
    const high = Math.max(leastPt, box.h * scale);
    const left = Math.min(x + w - wide, Math.max(x, x + (box.x + box.w / 2) * scale - wide / 2));
    const top = Math.min(y + h - high, Math.max(y, y + (box.y + box.h / 2) * scale - high / 2));
    doc.rect(left, top, wide, high).fill(ink.text);
    const onRight = left + wide / 2 < x + w / 2;
    const centreX = onRight ? left + wide + 9 : left - 9;
    doc
      .circle(centreX, top + high / 2, 5.5)
      .lineWidth(0.7)
      .fillAndStroke("#ffffff", ink.text);
    doc.font("bold").fontSize(7).fillColor(ink.text);
    doc.text(String(number), centreX - 8, top + high / 2 - 4.5, { width: 16, align: "center", lineBreak: false });
  }
};
