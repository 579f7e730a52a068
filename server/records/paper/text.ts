import { linesOf, printable } from "./lines.ts";
import { ensure, ink, type Sheet } from "./sheet.ts";

interface TextStyle {
  readonly tag: "H1" | "H2" | "H3" | "P" | "Caption";
  readonly font: "text" | "bold";
  readonly size: number;
  readonly colour: string;
  readonly before: number;
  readonly after: number;
  /** Lines that must stay together at the start, with what follows. */
  readonly keep: number;
}

const styles = {
  title: { tag: "H1", font: "bold", size: 19, colour: ink.text, before: 0, after: 5, keep: 6 },
  section: { tag: "H2", font: "bold", size: 13, colour: ink.text, before: 14, after: 5, keep: 4 },
  part: { tag: "H3", font: "bold", size: 10.5, colour: ink.text, before: 9, after: 3, keep: 3 },
  body: { tag: "P", font: "text", size: 9.5, colour: ink.text, before: 0, after: 4, keep: 2 },
  strong: { tag: "P", font: "bold", size: 9.5, colour: ink.text, before: 0, after: 4, keep: 2 },
  small: { tag: "P", font: "text", size: 8, colour: ink.soft, before: 0, after: 3, keep: 2 },
} as const satisfies Record<string, TextStyle>;

/** Height of a line as a multiple of the size of its letters. */
export const leading = 1.28;

/** Writes lines from (x, y) down; every line is one text and is not broken again. */
export const drawLines = (
  { doc }: Sheet,
  lines: readonly string[],
  place: { x: number; y: number; width: number; size: number; align?: "left" | "right" | "center" },
): void => {
  for (const [index, line] of lines.entries()) {
    const y = place.y + index * place.size * leading;
    doc.text(line, place.x, y, { width: place.width, align: place.align ?? "left", lineBreak: false });
  }
};

/** A heading or paragraph in one of the styles, over as many pages as it needs. */
export const write = (sheet: Sheet, kind: keyof typeof styles, text: string): void => {
  const { doc, body, left, width, bottom } = sheet;
  const style = styles[kind];
  const lineHeight = style.size * leading;
  doc.font(style.font).fontSize(style.size);
  const lines = linesOf(printable(text, sheet.has), width, doc);
  if (doc.y > doc.page.margins.top) doc.y += style.before;
  ensure(sheet, Math.min(style.keep, Math.max(lines.length, style.tag === "P" ? 1 : style.keep)) * lineHeight);
  const element = doc.struct(style.tag);
  body.add(element);
  for (let start = 0; start < lines.length; ) {
    ensure(sheet, lineHeight);
    const chunk = lines.slice(start, start + Math.max(1, Math.floor((bottom - doc.y) / lineHeight)));
    const y = doc.y;
    element.add(() => {
      doc.font(style.font).fontSize(style.size).fillColor(style.colour);
      drawLines(sheet, chunk, { x: left, y, width, size: style.size });
    });
    doc.y = y + chunk.length * lineHeight;
    start += chunk.length;
  }
  element.end();
  doc.y += style.after;
};
