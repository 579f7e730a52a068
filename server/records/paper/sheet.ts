import { createRequire } from "node:module";
import type PdfDocument from "pdfkit";

const require = createRequire(import.meta.url);
const fontFile = (style: string): string =>
  require.resolve(`@expo-google-fonts/source-sans-3/${style}/SourceSans3_${style}.ttf`);

export type Structure = PDFKit.PDFStructureElement;

/** Points to the mm. */
export const pt = (mm: number): number => (mm * 72) / 25.4;

/** Ink: everything must print well in grey. */
export const ink = { text: "#111111", soft: "#555555", line: "#999999", tint: "#eeeeee" } as const;

/** A tagged A4 document in the making: what is added to `body` is read in that order by a screen reader. */
export interface Sheet {
  readonly doc: PDFKit.PDFDocument;
  readonly body: Structure;
  readonly left: number;
  readonly width: number;
  readonly bottom: number;
  /** Whether the typeface has a glyph for a code point. */
  readonly has: (codePoint: number) => boolean;
}

interface SheetHead {
  readonly title: string;
  /** ISO 8601; stands as date of making and of change, so that the same content gives the same bytes. */
  readonly date: string;
  readonly marginMm?: { readonly top: number; readonly side: number; readonly bottom: number };
}

/** An empty A4 sheet with both weights of the text face as "text" and "bold". */
export const openSheet = ({ title, date, marginMm = { top: 22, side: 16, bottom: 18 } }: SheetHead): Sheet => {
  // Loaded with the first sheet: it would be a fifth of the time to start.
  const PDFDocument = require("pdfkit") as typeof PdfDocument;
  const made = new Date(date);
  const doc = new PDFDocument({
    size: "A4",
    margins: { top: pt(marginMm.top), left: pt(marginMm.side), right: pt(marginMm.side), bottom: pt(marginMm.bottom) },
    pdfVersion: "1.7",
    tagged: true,
    lang: "en-GB",
    displayTitle: true,
    bufferPages: true,
    info: { Title: title, Creator: "Leafledger", Producer: "Leafledger", CreationDate: made, ModDate: made },
  });
  doc.registerFont("text", fontFile("400Regular"));
  doc.registerFont("bold", fontFile("600SemiBold"));
  doc.font("text").fontSize(9.5).fillColor(ink.text);
  const body = doc.struct("Document");
  doc.addStructure(body);
  const { left, right, bottom } = doc.page.margins;
  // pdfkit's types do not show the font it holds.
  const { font } = (doc as unknown as { _font: { font: { hasGlyphForCodePoint(codePoint: number): boolean } } })._font;
  return {
    doc,
    body,
    left,
    width: doc.page.width - left - right,
    bottom: doc.page.height - bottom,
    has: (codePoint) => font.hasGlyphForCodePoint(codePoint),
  };
};

/** Starts a new page unless `height` points are still free on this one. */
export const ensure = ({ doc, bottom }: Sheet, height: number): void => {
  if (doc.y + height > bottom) doc.addPage();
};

/** Draws something that is no content of its own: a rule, a page number. A screen reader passes over it. */
export const decorate = ({ doc }: Sheet, draw: () => void): void => {
  doc.markContent("Artifact", { type: "Layout" });
  draw();
  doc.endMarkedContent();
};

/** A thin line across the text at the present height. */
export const rule = (sheet: Sheet): void => {
  const { doc, left, width } = sheet;
  decorate(sheet, () => {
    doc
      .moveTo(left, doc.y)
      .lineTo(left + width, doc.y)
      .lineWidth(0.5)
      .strokeColor(ink.line)
      .stroke();
  });
};

/** Writes head and foot on every page and gives the finished bytes. */
export const closeSheet = async (
  sheet: Sheet,
  headAndFoot: (page: number, of: number) => { left: string; right: string; foot: string } | null,
): Promise<Buffer> => {
  const { doc, body, left, width } = sheet;
  body.end();
  const { count } = doc.bufferedPageRange();
  for (let page = 0; page < count; page += 1) {
    const words = headAndFoot(page + 1, count);
    if (!words) continue;
    doc.switchToPage(page);
    doc.page.margins.bottom = 0;
    doc.markContent("Artifact", { type: "Pagination" });
    doc.font("bold").fontSize(8.5).fillColor(ink.text);
    doc.text(words.left, left, pt(10), { lineBreak: false });
    doc.font("text").text(words.right, left, pt(10), { width, align: "right", lineBreak: false });
    doc
      .moveTo(left, pt(15.5))
      .lineTo(left + width, pt(15.5))
      .lineWidth(0.5)
      .strokeColor(ink.line)
      .stroke();
    doc
      .fontSize(7)
      .fillColor(ink.soft)
      .text(words.foot, left, doc.page.height - pt(11), { lineBreak: false });
    doc.endMarkedContent();
  }
  const chunks: Buffer[] = [];
  doc.on("data", (chunk: Buffer) => chunks.push(chunk));
  const ended = new Promise<void>((done, failed) => doc.on("end", done).on("error", failed));
  doc.end();
  await ended;
  return Buffer.concat(chunks);
};
