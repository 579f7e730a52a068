import type { HistoryLine } from "../contract/views.ts";
import type { JournalLine } from "./journal-line.ts";
import { leavesTouched } from "./leaves-touched.ts";
import { undoBlockers } from "./touched-paths.ts";

/** Why a line cannot be taken back, in a sentence, or null. */
export const whyNoUndo = (lines: readonly JournalLine[], seq: number): string | null => {
  const blocker = undoBlockers(lines).get(seq);
  if (blocker === undefined) return `There is no change number ${seq}.`;
  if (blocker === seq) return "Photos, issued records and the delivery itself are kept: they cannot be taken back.";
  if (blocker > 0)
    return `Change ${blocker} (${lines[blocker - 1]?.what}) came later and rests on it: take that back first.`;
  return null;
};

/** The lines as people read them, each with whether it can be taken back now. */
export const historyOf = (lines: readonly JournalLine[]): HistoryLine[] => {
  const blockers = undoBlockers(lines);
  const leaves = leavesTouched(lines);
  return lines.map(({ seq, at, actor, device, what }) => {
    const undoable = blockers.get(seq) === 0;
    return { seq, at, actor, device, what, undoable, leaves: leaves.get(seq) ?? [] };
  });
};
