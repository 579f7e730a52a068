import type { JournalLine } from "./journal-line.ts";

const [back, again] = ["Took back: ", "Put back: "];

/** What a line is called that takes another back; taking back a "took back" puts the change in place again. */
export const takenBackWords = (what: string): string => {
  if (what.startsWith(back)) return `${again}${what.slice(back.length)}`;
  return `${back}${what.startsWith(again) ? what.slice(again.length) : what}`;
};

const reverses = (line: JournalLine, other: JournalLine): boolean =>
  JSON.stringify(line.patches) === JSON.stringify(other.inverse) &&
  JSON.stringify(line.inverse) === JSON.stringify(other.patches);

/**
 * Which line takes which back, by number in both directions: each line is in one pair at most, and a pair leaves the document as
 * if neither had been. A line is known as the answer to another by its words and by changing exactly what that one had changed.
 */
export const takenBackPairs = (lines: readonly JournalLine[]): Map<number, number> => {
  const waiting = new Map<string, JournalLine[]>();
  const answers = new Map<number, number>();
  for (const line of lines) {
    const alike = waiting.get(line.what) ?? [];
    const answered = alike.findLastIndex((other) => reverses(line, other));
    for (const { seq } of answered < 0 ? [] : alike.splice(answered, 1)) answers.set(line.seq, seq);
    const answer = takenBackWords(line.what);
    const others = waiting.get(answer);
    if (others) others.push(line);
    else waiting.set(answer, [line]);
  }
  const pairs = new Map<number, number>();
  // From the end on: what was put back again is no longer taken back.
  for (const [seq, answered] of [...answers].reverse())
    if (!pairs.has(seq)) pairs.set(seq, answered).set(answered, seq);
  return pairs;
};
