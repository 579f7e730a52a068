import type { HistoryLine } from "../../server/contract/views.ts";

/** Which lines are asked for; empty is all. */
interface Asked {
  readonly leaf: string;
  readonly person: string;
}

const distinct = (names: readonly string[]): readonly string[] =>
  [...new Set(names)].sort((a, b) => a.localeCompare(b, "en", { numeric: true }));

/** A history as the screen shows it: newest first, what it can be narrowed to, and the last shown that can be taken back. */
export const sorted = (lines: readonly HistoryLine[], { leaf, person }: Asked) => {
  const shown = lines
    .filter(({ actor, leaves }) => (person === "" || actor === person) && (leaf === "" || leaves.includes(leaf)))
    .toSorted((a, b) => b.seq - a.seq);
  return {
    leaves: distinct(lines.flatMap((line) => line.leaves)),
    people: distinct(lines.map(({ actor }) => actor)),
    shown,
    last: shown.find(({ undoable }) => undoable) ?? null,
  };
};
