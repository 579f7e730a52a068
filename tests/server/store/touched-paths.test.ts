import fc from "fast-check";
import { applyPatches, enablePatches, produceWithPatches } from "immer";
import { expect, test } from "vitest";
import { beforeFirst, type JournalLine, sealLine } from "../../../server/store/journal-line.ts";
import { takenBackWords } from "../../../server/store/taken-back.ts";
import { undoBlockers } from "../../../server/store/touched-paths.ts";

enablePatches();

interface Notes {
  readonly counts: Record<string, number>;
  readonly list: string[];
}

/** A small document and its journal, changed and taken back by the rules of the store. */
const openNotes = () => {
  const start: Notes = { counts: { a: 0, b: 0 }, list: [] };
  let notes = start;
  const lines: JournalLine[] = [];
  const write = (what: string, patches: JournalLine["patches"], inverse: JournalLine["inverse"]): void => {
    const who = { at: "2026-03-03T12:00:00Z", actor: "R", device: "laptop" };
    lines.push(sealLine(lines.at(-1) ?? beforeFirst, { ...who, what, patches, inverse }));
  };
  write("Began", [{ op: "replace", path: [], value: start }], []);
  return {
    lines,
    notes: () => notes,
    change: (what: string, recipe: (draft: Notes) => void): number => {
      const [next, patches, inverse] = produceWithPatches(notes, recipe);
      notes = next;
      if (patches.length > 0) write(what, patches, inverse);
      return lines.length;
    },
    blocker: (seq: number): number | undefined => undoBlockers(lines).get(seq),
    undo: (seq: number): number => {
      const line = lines[seq - 1];
      if (!line || undoBlockers(lines).get(seq) !== 0) throw new Error(`${seq} cannot be taken back`);
      notes = applyPatches(notes, [...line.inverse]) as Notes;
      write(takenBackWords(line.what), line.inverse, line.patches);
      return lines.length;
    },
  };
};

const add = (word: string) => (draft: Notes) => {
  draft.list.push(word);
};

test("additions to a list are taken back one after the other, the last one first", () => {
  const book = openNotes();
  const [one, two, three] = ["one", "two", "three"].map((word) => book.change(`Added ${word}`, add(word)));
  expect(book.blocker(one!)).toBe(three);
  book.undo(three!);
  expect(book.blocker(one!)).toBe(two);
  book.undo(two!);
  book.undo(one!);
  expect(book.notes().list).toEqual([]);
});

test("what was taken back is put back in the order in which it stood", () => {
  const book = openNotes();
  const [one, two] = ["one", "two"].map((word) => book.change(`Added ${word}`, add(word)));
  const backTwo = book.undo(two!);
  const backOne = book.undo(one!);
  expect(book.blocker(two!)).toBe(backOne);
  expect(book.blocker(backTwo)).toBe(backOne);
  book.undo(backOne);
  const again = book.undo(backTwo);
  expect(book.notes().list).toEqual(["one", "two"]);
  expect(book.lines.slice(-2).map(({ what }) => what)).toEqual(["Put back: Added one", "Put back: Added two"]);
  book.undo(again);
  book.undo(one!);
  expect(book.notes().list).toEqual([]);
  expect(book.lines.at(-1)?.what).toBe("Took back: Added one");
});

test("a change that only sounds like one taken back still stands in the way", () => {
  const book = openNotes();
  const set = book.change("Set", (draft) => {
    draft.counts.a = 1;
  });
  const later = book.change("Took back: Set", (draft) => {
    draft.counts.a = 2;
  });
  expect(book.blocker(set)).toBe(later);
});

const step = fc.oneof(
  fc.record({ kind: fc.constant("add" as const), word: fc.constantFrom("x", "y") }),
  fc.record({ kind: fc.constant("set" as const), key: fc.constantFrom("a", "b"), to: fc.integer({ min: 0, max: 2 }) }),
  fc.record({ kind: fc.constant("undo" as const), back: fc.nat(12) }),
);

test("whatever may be taken back restores exactly what it had changed, in any order of changing and taking back", () => {
  fc.assert(
    fc.property(fc.array(step, { maxLength: 24 }), (steps) => {
      const book = openNotes();
      for (const one of steps) {
        if (one.kind === "add") book.change(`Added ${one.word}`, add(one.word));
        else if (one.kind === "set")
          book.change(`Set ${one.key}`, (draft) => {
            draft.counts[one.key] = one.to;
          });
        else {
          const seq = book.lines.length - one.back;
          if (seq < 2 || book.blocker(seq) !== 0) continue;
          const before = book.notes();
          const redo = book.undo(seq);
          // Taken back twice is as before, and every list is whole.
          expect(applyPatches(book.notes(), [...book.lines[redo - 1]!.inverse])).toEqual(before);
          expect(book.notes().list.every((word) => word === "x" || word === "y")).toBe(true);
        }
      }
      // From the end on everything can be taken back, down to the beginning.
      for (let guard = 0; guard < 200; guard++) {
        const plain = book.lines.findLast(
          ({ seq, what }) => seq > 1 && !what.startsWith("Took back") && book.blocker(seq) === 0,
        );
        if (!plain) break;
        book.undo(plain.seq);
      }
      expect(book.notes()).toEqual({ counts: { a: 0, b: 0 }, list: [] });
    }),
    { seed: 31, numRuns: 300 },
  );
});
