import { ensure, ink, pt, type Sheet } from "./sheet.ts";
import { leading } from "./text.ts";

export interface Frame {
  readonly x: number;
  readonly y: number;
  readonly w: number;
  readonly h: number;
}

/** A drawing or picture with words for who cannot see it. */
export const figure = ({ doc, body }: Sheet, alt: string, { x, y, w, h }: Frame, draw: () => void): void => {
  const options = { alt, bbox: [x, y, x + w, y + h], placement: "Block" };
  body.add(doc.struct("Figure", options, [draw]));
};

/** A JPEG in a frame of its own proportions with a thin line round it. */
export const drawPicture = ({ doc }: Sheet, jpeg: Buffer, { x, y, w, h }: Frame): void => {
  doc.image(jpeg, x, y, { width: w, height: h });
  doc.rect(x, y, w, h).lineWidth(0.4).strokeColor(ink.line).stroke();
};

/** Tells what stands where a picture could not be made. */
export const drawGap = ({ doc }: Sheet, why: string, { x, y, w, h }: Frame): void => {
  doc.rect(x, y, w, h).lineWidth(0.4).dash(2, { space: 2 }).strokeColor(ink.line).stroke().undash();
  doc.font("text").fontSize(7.5).fillColor(ink.soft);
  doc.text(why, x + 4, y + 4, { width: w - 8, height: h - 8, ellipsis: true });
};

/** The step of a scale that gives 4 to 10 divisions over a length in mm: 1, 2, 5, 10, 20, 50 … */
export const scaleStep = (lengthMm: number): number => {
  const rough = lengthMm / 10;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].find((factor) => factor * power >= rough * 0.999) ?? 10;
  return step * power;
};

const barPt = 4;

/** A black and white scale in mm along the foot and the left side of a frame, outside it. */
export const drawScale = ({ doc }: Sheet, { x, y, w, h }: Frame, widthMm: number): void => {
  const pointsPerMm = w / widthMm;
  const step = scaleStep(widthMm);
  const along = (length: number, bar: (from: number, to: number, filled: boolean) => void): void => {
    const divisions = Math.floor(length / pointsPerMm / step + 1e-9);
    for (let i = 0; i < divisions; i += 1) bar(i * step * pointsPerMm, (i + 1) * step * pointsPerMm, i % 2 === 0);
  };
  doc.lineWidth(0.4).strokeColor(ink.text);
  const box = (left: number, top: number, wide: number, high: number, filled: boolean): void => {
    doc.rect(left, top, wide, high);
    if (filled) doc.fillAndStroke(ink.text, ink.text);
    else doc.fillAndStroke("#ffffff", ink.text);
  };
  along(w, (from, to, filled) => box(x + from, y + h + 2, to - from, barPt, filled));
  along(h, (from, to, filled) => box(x - 2 - barPt, y + h - to, barPt, to - from, filled));
  doc.font("text").fontSize(6.5).fillColor(ink.text);
  const divisions = Math.floor(widthMm / step + 1e-9);
  for (let i = 0; i <= divisions; i += Math.max(1, Math.floor(divisions / 5))) {
    const label = `${Number((i * step).toFixed(2))}${i === 0 ? " mm" : ""}`;
    doc.text(label, x + i * step * pointsPerMm - (i === 0 ? 0 : 10), y + h + 7.5, {
      width: i === 0 ? 30 : 20,
      align: i === 0 ? "left" : "center",
      lineBreak: false,
    });
  }
};

/** Height that captions under a row of figures take. */
const captionHeight = (sheet: Sheet, captions: readonly string[], width: number): number => {
  sheet.doc.font("text").fontSize(7.5);
  return Math.max(...captions.map((text) => sheet.doc.heightOfString(text, { width }))) * (leading / 1.2);
};

/** A figure that waits for its place in a row: its proportions, its words, and how it is drawn. */
export interface RowFigure {
  readonly alt: string;
  readonly caption: string;
  /** Width over height. */
  readonly proportion: number;
  readonly draw: (frame: Frame) => void;
}

/** Figures side by side in equal columns, each with a caption under it; a new page when they do not fit. */
export const writeFigures = (
  sheet: Sheet,
  figures: readonly RowFigure[],
  { columns, highestMm, roomMm = 7 }: { columns: number; highestMm: number; roomMm?: number },
): void => {
  const { doc, body, left, width } = sheet;
  const gap = pt(6);
  const cell = (width - gap * (columns - 1)) / columns;
  for (let start = 0; start < figures.length; start += columns) {
    const row = figures.slice(start, start + columns);
    const sizes = row.map(({ proportion }) => {
      const h = Math.min(pt(highestMm), (cell - pt(3)) / proportion);
      return { w: h * proportion, h };
    });
    const high = Math.max(...sizes.map(({ h }) => h));
    const words = captionHeight(
      sheet,
      row.map(({ caption }) => caption),
      cell,
    );
    ensure(sheet, high + pt(roomMm) + words);
    const top = doc.y;
    for (const [index, { alt, caption, draw }] of row.entries()) {
      const { w, h } = sizes[index] ?? { w: 0, h: 0 };
      const x = left + index * (cell + gap) + pt(3);
      const frame = { x, y: top + high - h, w, h };
      figure(sheet, alt, frame, () => draw(frame));
      const text = doc.struct("Caption", {}, () => {
        doc.font("text").fontSize(7.5).fillColor(ink.soft);
        doc.text(caption, x, top + high + pt(roomMm - 1), { width: cell - pt(3) });
      });
      body.add(text);
    }
    doc.y = top + high + pt(roomMm) + words + 4;
  }
};
