import { Refusal } from "../problem.ts";

/** Prints an answer: as JSON for programs, in words for people. */
export const say = (json: boolean, answer: unknown, words: () => string): void => {
  process.stdout.write(`${json ? JSON.stringify(answer, null, 2) : words()}\n`);
};

/** Text columns of equal width, two blanks apart. */
export const columns = (rows: readonly (readonly string[])[]): string => {
  const widths = (rows[0] ?? []).map((_, column) => Math.max(...rows.map((row) => row[column]?.length ?? 0)));
  return rows
    .map((row) =>
      row
        .map((cell, column) => cell.padEnd(widths[column] ?? 0))
        .join("  ")
        .trimEnd(),
    )
    .join("\n");
};

/** What went wrong, for a terminal: the sentence, and the place of each fault. */
export const wordsOf = (error: unknown): string => {
  if (error instanceof Refusal)
    return [error.message, ...error.faults.map(({ at, says }) => `  ${at}: ${says}`)].join("\n");
  return error instanceof Error ? error.message : String(error);
};
