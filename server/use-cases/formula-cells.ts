/** How a cell begins that a spreadsheet takes for a formula, wide forms too (OWASP, CSV injection), behind any apostrophes. */
const formula = /^'*[=+\-@\t\r\0\uff1d\uff0b\uff0d\uff20]/;

/** A cell that a spreadsheet shows as text: one that it would take for a formula begins with one more apostrophe. */
export const shownAsText = (cell: string): string => (formula.test(cell) ? `'${cell}` : cell);

/** The cell as it was before `shownAsText`. */
export const asWritten = (cell: string): string => (cell.startsWith("'") && formula.test(cell) ? cell.slice(1) : cell);
