import { layoutOf, type PatternName, patternNames } from "../../analysis/patterns.ts";
import type { Pattern } from "../contract/leaf.ts";

const numbers: Record<string, string> = { "1": "one", "2": "two", "3": "three", "4": "four", "5": "five", "6": "six" };

/** Other words of the trade for a pattern. Common practice, no source. */
const alsoCalled: Record<string, PatternName> = { "vertical-boards": "boarded", "five-panel": "five-horizontal" };

/** The pattern's name as we write it: "4 Panel" and "4-panel" are "four-panel". */
const named = (text: string): PatternName | null => {
  const plain = text
    .trim()
    .toLowerCase()
    .replace(/[\s_]+/g, "-");
  const inWords = plain.replace(/^\d(?=-)/, (digit) => numbers[digit] ?? digit);
  return patternNames.find((name) => name === (alsoCalled[inWords] ?? inWords)) ?? null;
};

const short: Record<PatternName, string> = {
  flush: "FL",
  "one-panel": "P1",
  "two-panel": "P2",
  "three-panel": "P3",
  "four-panel": "P4",
  "six-panel": "P6",
  "five-horizontal": "H5",
  boarded: "BD",
  ladder: "LD",
  glazed: "GL",
};

/** A pattern as ordered, by name and size; or why there is none. Its id, as "P4-1981X838", is the same for the same order. */
export const makePattern = (name: string, widthMm: number, heightMm: number): Pattern | { readonly why: string } => {
  const known = named(name);
  if (!known) return { why: `"${name.slice(0, 40)}" is not a pattern: use ${patternNames.join(", ")}` };
  const layout = layoutOf(known, widthMm, heightMm);
  if (!layout) return { why: `a leaf of ${widthMm} x ${heightMm} mm is too small for the pattern ${known}` };
  return {
    id: `${short[known]}-${Math.round(heightMm)}X${Math.round(widthMm)}`,
    name: `${known} ${heightMm} x ${widthMm}`,
    widthMm,
    heightMm,
    parts: layout.parts.map(({ name: part, kind, grain, rectMm }) => ({
      name: part,
      kind,
      grain,
      rectMm: [...rectMm],
    })),
  };
};
