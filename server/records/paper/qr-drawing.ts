import qrcode from "qrcode";
import type { Frame } from "./figure.ts";
import type { Sheet } from "./sheet.ts";

/**
 * A QR code (ISO/IEC 18004, level M, the smallest version that holds the text) as black rectangles; the frame is the
 * module area, without the quiet zone of four modules that must stay white round it. Modules side by side are drawn as
 * one, so that no printer leaves a hairline between them.
 */
export const drawQr = ({ doc }: Sheet, text: string, { x, y, w }: Frame): void => {
  const { modules } = qrcode.create(text, { errorCorrectionLevel: "M" });
  const { size } = modules;
  const side = w / size;
  for (let row = 0; row < size; row += 1) {
    for (let column = 0; column < size; column += 1) {
      if (!modules.get(row, column)) continue;
      const start = column;
      while (column + 1 < size && modules.get(row, column + 1)) column += 1;
      doc.rect(x + start * side, y + row * side, (column + 1 - start) * side, side);
    }
  }
  doc.fill("#000000");
};
