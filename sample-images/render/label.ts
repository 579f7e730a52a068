import { rgbOfLab65 } from "./colour.ts";
import { write } from "./letters.ts";
import { paintQr } from "./qr.ts";
import { blankRaster, type Raster, type RectMm } from "./raster.ts";

/** Where the sticker sits on a face: left, top, width, height in mm. */
export const labelRectMm: RectMm = [42, 48, 70, 45];

/** The white sticker of a leaf: code, number, and the size that the maker's label claims. */
export const paintLabel = (leaf: string, claimed: string): Raster => {
  const ink = rgbOfLab65([16, 0, 0]);
  const raster = blankRaster([0, 0, labelRectMm[2], labelRectMm[3]], 8, rgbOfLab65([93, -0.2, 1.2]));
  paintQr(raster, `HTTPS://LEAFLEDGER.LOCAL/L/${leaf}`, 2.5, 2.5, 40, ink);
  write(raster, leaf, 45.5, 7, 9.5, ink);
  write(raster, "TOP", 45.5, 21, 5, ink);
  write(raster, claimed, 45.5, 32, 3.4, ink);
  return raster;
};
