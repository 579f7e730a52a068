import { CsvError, parse } from "csv-parse/sync";
import { Refusal } from "../problem.ts";
import { asWritten } from "./formula-cells.ts";

/** One row of a table, by column; `line` is its line in the file, from 1. */
export interface TableRow {
  readonly line: number;
  readonly cells: Readonly<Record<string, string>>;
}

/** Something wrong in a file: where, as "line 4, width_mm", and what is expected. */
export interface Fault {
  readonly at: string;
  readonly says: string;
}

const most = { rows: 5000, columns: 100, cell: 2000 };

const delimiterOf = (text: string): string => {
  const header = text.slice(0, text.search(/\r|\n|$/));
  const count = (delimiter: string): number => header.split(delimiter).length;
  return [",", ";", "\t"].reduce((best, one) => (count(one) > count(best) ? one : best));
};

/** Refuses a file, with all its faults; the first is told in the sentence. */
export const refuse = (name: string, faults: readonly Fault[]): never => {
  const more = faults.length > 1 ? ` and ${faults.length - 1} more` : "";
  throw new Refusal(`The ${name} was not taken: ${faults[0]?.at}: ${faults[0]?.says}${more}.`, 422, faults);
};

/** Refuses a file with all its faults at once; does nothing when there are none. */
export const refuseFaults = (name: string, faults: readonly Fault[]): void => {
  if (faults.length > 0) refuse(name, faults);
};

const lineAt = (text: string, index: number): number => text.slice(0, index).split(/\r\n?|\n/).length;

/** A text that was read as UTF-8 and is none: UTF-16 shows by its many NULs, another by letters that could not be read. */
const encodingFaults = (text: string): Fault[] => {
  const [nul, unread] = [text.indexOf("\0"), text.indexOf("\uFFFD")];
  if (nul >= 0 && text.split("\0").length > text.length / 4)
    return [{ at: "the file", says: "is UTF-16, not UTF-8: save it as CSV UTF-8" }];
  if (unread >= 0)
    return [
      {
        at: `line ${lineAt(text, unread)}`,
        says: "holds a letter that is not UTF-8 (most likely the file is Latin-1 or Windows-1252): save it as CSV UTF-8",
      },
    ];
  return nul >= 0 ? [{ at: `line ${lineAt(text, nul)}`, says: "holds a NUL, which is no text: take it out" }] : [];
};

/**
 * Reads a CSV file: comma, semicolon or tab, byte-order mark, quotes, any line ends. The first line names the columns.
 * Throws a Refusal (422) that names line and column of every fault.
 */
export const readTable = (
  name: string,
  text: string,
  columns: { readonly needed: readonly string[]; readonly optional: readonly string[] },
): TableRow[] => {
  refuseFaults(name, encodingFaults(text));
  let records: { record: string[]; info: { lines: number } }[];
  try {
    records = parse(text, {
      bom: true,
      delimiter: delimiterOf(text),
      info: true,
      relax_column_count: true,
      to: most.rows + 2, // the header, the rows, and one more to see that there are too many
      skip_empty_lines: true,
      trim: true,
      max_record_size: most.columns * most.cell,
    }) as unknown as typeof records;
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    return refuse(name, [{ at: `line ${Number(error.lines)}`, says: error.message.replace(/ at line \d+/, "") }]);
  }
  const [header, ...rows] = records;
  if (rows.length > most.rows || (header?.record.length ?? 0) > most.columns)
    throw new Refusal(
      `The ${name} was not taken: it has more than ${most.rows} rows or ${most.columns} columns. Send a part of it.`,
      413,
    );
  const names = (header?.record ?? []).map((column) => column.toLowerCase().replaceAll(" ", "_"));
  const known = [...columns.needed, ...columns.optional];
  const faults: Fault[] = [
    ...columns.needed
      .filter((column) => !names.includes(column))
      .map((column) => ({ at: "line 1", says: `column ${column} is missing` })),
    ...names
      .filter((column) => !known.includes(column))
      .map((column) => ({ at: "line 1", says: `column "${column.slice(0, 40)}" is not known` })),
    ...names
      .filter((column, index) => names.indexOf(column) < index)
      .map((column) => ({ at: "line 1", says: `column ${column} stands twice` })),
    ...(rows.length === 0 ? [{ at: "line 2", says: "there are no rows" }] : []),
    ...rows.flatMap(({ record, info }) => [
      ...(record.length === names.length
        ? []
        : [{ at: `line ${info.lines}`, says: `has ${record.length} cells, ${names.length} are expected` }]),
      ...record.flatMap((cell, index) =>
        cell.length > most.cell
          ? [{ at: `line ${info.lines}, ${names[index]}`, says: `longer than ${most.cell} characters` }]
          : [],
      ),
    ]),
  ];
  refuseFaults(name, faults);
  return rows.map(({ record, info }) => ({
    line: info.lines,
    cells: Object.fromEntries(names.map((column, index) => [column, asWritten(record[index] ?? "")])),
  }));
};
