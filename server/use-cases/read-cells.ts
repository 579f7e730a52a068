import type * as z from "zod";
import { code, shortText } from "../contract/ids.ts";
import type { Fault, TableRow } from "./read-table.ts";

/** Reads the cells of one row; what does not fit is noted in `faults` and a stand-in given back, so that all faults are found. */
export interface CellReader {
  text(column: string): string;
  code(column: string): string;
  codeOrNone(column: string): string | null;
  whole(column: string, range: readonly [number, number], otherwise?: number): number;
  amount(column: string, range: readonly [number, number]): number;
  fault(column: string, says: string): void;
  /** Notes a fault when another row had this name before; `taken` gathers the names of all rows. */
  once(column: string, what: string, name: string, taken: Set<string>): void;
}

/** A decimal comma is read too. */
const numberIn = (cell: string): number => (/^\d+([.,]\d+)?$/.test(cell) ? Number(cell.replace(",", ".")) : Number.NaN);

export const cellReader = (row: TableRow, faults: Fault[]): CellReader => {
  const cell = (column: string): string => row.cells[column] ?? "";
  const fault = (column: string, says: string): void => {
    faults.push({ at: `line ${row.line}, ${column}`, says });
  };
  const checked = <T>(schema: z.ZodType<T>, column: string, value: unknown, stand: T): T => {
    const result = schema.safeParse(value);
    if (!result.success) fault(column, result.error.issues[0]?.message ?? "does not fit");
    return result.success ? result.data : stand;
  };
  const amount = (column: string, [low, high]: readonly [number, number]): number => {
    const value = numberIn(cell(column));
    if (value >= low && value <= high) return value;
    fault(column, `"${cell(column).slice(0, 40)}" is not a number from ${low} to ${high}`);
    return low;
  };
  return {
    fault,
    amount,
    once: (column, what, name, taken) => {
      if (taken.has(name)) fault(column, `${what} ${name} stands twice`);
      taken.add(name);
    },
    text: (column) => checked(shortText, column, cell(column), ""),
    code: (column) => checked(code, column, cell(column).toUpperCase(), "X"),
    codeOrNone: (column) => (cell(column) === "" ? null : checked(code, column, cell(column).toUpperCase(), "X")),
    whole: (column, range, otherwise) => {
      if (cell(column) === "" && otherwise !== undefined) return otherwise;
      const value = amount(column, range);
      if (!Number.isInteger(value)) fault(column, `"${cell(column)}" is not a whole number`);
      return Math.round(value);
    },
  };
};
