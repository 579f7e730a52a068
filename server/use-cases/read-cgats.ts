import { type Fault, refuseFaults, type TableRow } from "./read-table.ts";

/** A table of measured colours as CGATS.17 text holds it. Field names are in capitals; `header` is every line before the data. */
export interface CgatsTable {
  readonly header: readonly string[];
  readonly fields: readonly string[];
  readonly rows: readonly TableRow[];
}

interface Line {
  readonly number: number;
  readonly words: readonly string[];
}

/** Words of a line: quoted strings whole, the rest between blanks; what follows a # is a remark. */
const wordsOf = (line: string): string[] =>
  (line.match(/"[^"]*"|#.*|[^\s"#]+/g) ?? [])
    .filter((word) => !word.startsWith("#"))
    .map((word) => word.replaceAll('"', "").trim());

/** The lines between two keywords, which stand alone on theirs; a fault when one of them is missing. */
const between = (lines: readonly Line[], begin: string, end: string, faults: Fault[]): readonly Line[] => {
  const at = (keyword: string) => lines.findIndex(({ words }) => words[0]?.toUpperCase() === keyword);
  const [from, to] = [at(begin), at(end)];
  if (from < 0) faults.push({ at: "the text", says: `there is no ${begin}` });
  else if (to < from) faults.push({ at: `line ${lines[from]?.number}`, says: `${begin} has no ${end} after it` });
  return from < 0 || to < from ? [] : lines.slice(from + 1, to);
};

/** What a NUMBER_OF_ keyword announces, held against what is there. */
const announced = (lines: readonly Line[], keyword: string, found: number, what: string): Fault[] =>
  lines.flatMap(({ number, words }) =>
    words[0]?.toUpperCase() === keyword && Number(words[1]) !== found
      ? [{ at: `line ${number}`, says: `${keyword} says ${words[1] ?? "nothing"}, but there are ${found} ${what}` }]
      : [],
  );

/** Whether a text means to be CGATS: it begins with the name of the format or holds its keywords. */
export const isCgats = (text: string): boolean => /^\W*(CGATS|ISO28178)/i.test(text) || /^BEGIN_DATA/im.test(text);

/**
 * Reads CGATS.17 text (ISO 28178, from memory): keywords, names of fields, one set of values a line. Throws a Refusal (422) that names
 * the line of every fault. Only the first table of a text is read.
 */
export const readCgats = (name: string, text: string): CgatsTable => {
  const faults: Fault[] = [];
  const all = text.split(/\r\n|\r|\n/);
  const lines = all.map((line, index): Line => ({ number: index + 1, words: wordsOf(line) }));
  const fields = between(lines, "BEGIN_DATA_FORMAT", "END_DATA_FORMAT", faults)
    .flatMap(({ words }) => words)
    .map((field) => field.toUpperCase());
  const sets = between(lines, "BEGIN_DATA", "END_DATA", faults).filter(({ words }) => words.length > 0);
  refuseFaults(name, faults);
  const twice = fields.filter((field, index) => fields.indexOf(field) < index);
  refuseFaults(name, [
    ...announced(lines, "NUMBER_OF_FIELDS", fields.length, "fields"),
    ...announced(lines, "NUMBER_OF_SETS", sets.length, "sets"),
    ...twice.map((field) => ({ at: "BEGIN_DATA_FORMAT", says: `field ${field} stands twice` })),
    ...sets
      .filter(({ words }) => words.length !== fields.length)
      .map(({ number, words }) => ({
        at: `line ${number}`,
        says: `has ${words.length} values, ${fields.length} are expected`,
      })),
  ]);
  return {
    header: all.slice(
      0,
      all.findIndex((line) => /^\s*BEGIN_DATA\s*$/i.test(line)),
    ),
    fields,
    rows: sets.map(({ number, words }) => ({
      line: number,
      cells: Object.fromEntries(fields.map((field, index) => [field, words[index] ?? ""])),
    })),
  };
};
