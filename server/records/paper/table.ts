import { linesOf, printable } from "./lines.ts";
import { decorate, ensure, ink, rule, type Sheet, type Structure } from "./sheet.ts";
import { drawLines, leading } from "./text.ts";

export interface Column {
  readonly title: string;
  /** Share of the width of the table; the shares of all columns need not add up to anything. */
  readonly share: number;
  readonly align?: "left" | "right";
  readonly bold?: boolean;
}

const padX = 4;
const padY = 2.5;

interface Grid {
  readonly columns: readonly (Column & { readonly x: number; readonly width: number })[];
  readonly size: number;
}

const gridOf = ({ left, width }: Sheet, columns: readonly Column[], size: number): Grid => {
  const whole = columns.reduce((sum, { share }) => sum + share, 0);
  let x = left;
  const placed = columns.map((column) => {
    const cell = { ...column, x, width: (width * column.share) / whole };
    x += cell.width;
    return cell;
  });
  return { columns: placed, size };
};

/** Draws one row from `from` to what fits on this page; gives the number of lines drawn. */
const drawPart = (
  sheet: Sheet,
  grid: Grid,
  cells: readonly string[][],
  elements: Structure[],
  from: number,
): number => {
  const { doc, bottom } = sheet;
  const lineHeight = grid.size * leading;
  const most = Math.max(...cells.map((lines) => lines.length));
  const room = Math.max(1, Math.floor((bottom - doc.y - 2 * padY) / lineHeight));
  const count = Math.min(room, most - from);
  const y = doc.y + padY;
  for (const [index, column] of grid.columns.entries()) {
    const lines = cells[index]?.slice(from, from + count) ?? [];
    if (lines.length === 0) continue;
    elements[index]?.add(() => {
      doc
        .font(column.bold ? "bold" : "text")
        .fontSize(grid.size)
        .fillColor(ink.text);
      const place = { x: column.x + padX, y, width: column.width - 2 * padX, size: grid.size };
      drawLines(sheet, lines, { ...place, align: column.align ?? "left" });
    });
  }
  doc.y = y + count * lineHeight + padY;
  return count;
};

const drawHead = (sheet: Sheet, grid: Grid, table: Structure | null): void => {
  const { doc, left, width } = sheet;
  doc.font("bold").fontSize(grid.size).fillColor(ink.text);
  const cells = grid.columns.map(({ title, width: cell }) => linesOf(title, cell - 2 * padX, doc));
  const height = Math.max(...cells.map((lines) => lines.length)) * grid.size * leading + 2 * padY;
  decorate(sheet, () => doc.rect(left, doc.y, width, height).fill(ink.tint));
  doc.fillColor(ink.text);
  if (table) {
    // pdfkit writes the scope; its types do not know it.
    const options: object = { scope: "Column" };
    const row = doc.struct("TR");
    const elements = grid.columns.map(() => doc.struct("TH", options));
    table.add(row);
    for (const element of elements) row.add(element);
    const bold = { ...grid, columns: grid.columns.map((column) => ({ ...column, bold: true })) };
    drawPart(sheet, bold, cells, elements, 0);
    row.end();
    return;
  }
  // Repeated on a further page it is furniture, not content.
  const top = doc.y;
  const y = top + padY;
  decorate(sheet, () => {
    for (const [index, { x, width: cell, align = "left" }] of grid.columns.entries())
      drawLines(sheet, cells[index] ?? [], { x: x + padX, y, width: cell - 2 * padX, size: grid.size, align });
  });
  doc.y = top + height;
};

const writeRow = (sheet: Sheet, grid: Grid, row: readonly string[], table: Structure, headed: boolean): void => {
  const { doc, bottom } = sheet;
  const { columns, size } = grid;
  const cells = columns.map(({ width, bold }, index) => {
    doc.font(bold ? "bold" : "text").fontSize(size);
    return linesOf(printable(row[index] ?? "", sheet.has), width - 2 * padX, doc);
  });
  const most = Math.max(...cells.map((lines) => lines.length));
  const element = doc.struct("TR");
  table.add(element);
  const elements = columns.map((_, index) => doc.struct(index === 0 ? "TH" : "TD"));
  for (const cell of elements) element.add(cell);
  for (let from = 0; from < most; ) {
    if (doc.y + Math.min(most - from, 3) * size * leading + 2 * padY > bottom) {
      doc.addPage();
      if (headed) drawHead(sheet, grid, null);
    }
    from += drawPart(sheet, grid, cells, elements, from);
  }
  element.end();
  rule(sheet);
};

const writeRows = (sheet: Sheet, grid: Grid, rows: readonly (readonly string[])[], headed: boolean): void => {
  const { doc, body } = sheet;
  const table = doc.struct("Table");
  body.add(table);
  ensure(sheet, 4 * (grid.size * leading + padY));
  if (headed) drawHead(sheet, grid, table);
  for (const row of rows) writeRow(sheet, grid, row, table, headed);
  table.end();
  doc.y += 8;
};

/**
 * A table over the whole width, its head repeated on every page. A row that does not fit is carried on, so that a cell
 * may hold any length of text. The first cell of a row is its head.
 */
export const writeTable = (
  sheet: Sheet,
  columns: readonly Column[],
  rows: readonly (readonly string[])[],
  size = 8.5,
): void => writeRows(sheet, gridOf(sheet, columns, size), rows, true);

/** Facts as pairs of name and value, the name as head of its row; a pair without a value is left out. */
export const writeFacts = (sheet: Sheet, facts: readonly (readonly [string, string])[]): void =>
  writeRows(
    sheet,
    gridOf(
      sheet,
      [
        { title: "", share: 1, bold: true },
        { title: "", share: 4.2 },
      ],
      9,
    ),
    facts.filter(([, value]) => value !== ""),
    false,
  );
