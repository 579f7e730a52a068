import type { JournalLine } from "./journal-line.ts";

type Path = readonly (string | number)[];

/**
 * An element that comes into a list or goes from it touches its own place and the list's "length", whatever words the patch has
 * for it: to take it out while others were added after it would move those to other places.
 */
const pathsOf = (line: JournalLine): Path[] =>
  [...line.patches, ...line.inverse].flatMap(({ op, path }) => {
    const inList = typeof path.at(-1) === "number" && op !== "replace";
    return inList ? [path, [...path.slice(0, -1), "length"]] : [path];
  });

const key = (path: Path): string => JSON.stringify(path);

/** Evidence is not taken back: photos that came in, issued records, and the first line. A photo's filing can be. */
const isKept = (line: JournalLine): boolean =>
  line.seq === 1 ||
  pathsOf(line).some(([list, , field]) => list === "records" || (list === "photos" && field === undefined));

/**
 * Which later line stands in the way of taking a line back, for each line's number: 0 when none does,
 * the line's own number when it may never be taken back. Two lines meet when one touches what the other
 * touches or what contains it.
 */
export const undoBlockers = (lines: readonly JournalLine[]): Map<number, number> => {
  const blockers = new Map<number, number>();
  const touched = new Map<string, number>();
  const containing = new Map<string, number>();
  for (const line of lines.toReversed()) {
    const paths = pathsOf(line);
    const above = (path: Path): Path[] => path.map((_, length) => path.slice(0, length));
    const later = paths.flatMap((path) => [
      containing.get(key(path)) ?? 0,
      ...[...above(path), path].map((part) => touched.get(key(part)) ?? 0),
    ]);
    blockers.set(line.seq, isKept(line) ? line.seq : Math.max(0, ...later));
    for (const path of paths) {
      touched.set(key(path), line.seq);
      for (const part of [...above(path), path]) containing.set(key(part), line.seq);
    }
  }
  return blockers;
};
