import QRCode from "qrcode";
import type { Rgb } from "./colour.ts";
import { fillRect, type Raster } from "./raster.ts";

/** Paints a QR code of level M; (x, y) is the corner of its modules, no quiet zone is added. */
export const paintQr = (raster: Raster, text: string, xMm: number, yMm: number, sizeMm: number, ink: Rgb): void => {
  const { modules } = QRCode.create(text, { errorCorrectionLevel: "M" });
  const cell = sizeMm / modules.size;
  for (let row = 0; row < modules.size; row++)
    for (let column = 0; column < modules.size; column++)
      if (modules.get(row, column)) fillRect(raster, [xMm + column * cell, yMm + row * cell, cell, cell], ink);
};
