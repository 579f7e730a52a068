import type { JournalLine } from "./journal-line.ts";
import { takenBackPairs } from "./taken-back.ts";

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

/** Evidence is not taken back: photos that came in, issued records, entries set aside, the first line and a new version. A photo's filing can be. */
const isKept = (line: JournalLine): boolean =>
  line.seq === 1 ||
  pathsOf(line).some(
    ([list, , field]) =>
      list === "version" || list === "records" || ((list === "photos" || list === "conflicts") && field === undefined),
  );

/** The lines that touch each path, the newest first. */
type Touching = Map<string, Set<number>>;

const note = (touching: Touching, path: Path, seq: number): void => {
  const lines = touching.get(key(path));
  if (lines) lines.add(seq);
  else touching.set(key(path), new Set([seq]));
};

const newest = (touching: Touching, path: Path): number => {
  for (const seq of touching.get(key(path)) ?? []) return seq;
  return 0;
};

/** The path itself and all that it lies in, from the whole document on. */
const upTo = (path: Path): Path[] => [...path.map((_, length) => path.slice(0, length)), path];

/**
 * Which later line stands in the way of taking a line back, for each line's number: 0 when none does,
 * the line's own number when it may never be taken back. Two lines meet when one touches what the other
 * touches or what contains it. A line and the one that took it back touch nothing together.
 */
export const undoBlockers = (lines: readonly JournalLine[]): Map<number, number> => {
  const blockers = new Map<number, number>();
  const touched: Touching = new Map();
  const containing: Touching = new Map();
  const pairs = takenBackPairs(lines);
  for (const line of lines.toReversed()) {
    const paths = pathsOf(line);
    const later = paths.flatMap((path) => [
      newest(containing, path),
      ...upTo(path).map((part) => newest(touched, part)),
    ]);
    blockers.set(line.seq, isKept(line) ? line.seq : Math.max(0, ...later));
    const answer = pairs.get(line.seq) ?? 0;
    for (const path of paths) {
      if (answer > line.seq) {
        touched.get(key(path))?.delete(answer);
        for (const part of upTo(path)) containing.get(key(part))?.delete(answer);
      } else {
        note(touched, path, line.seq);
        for (const part of upTo(path)) note(containing, part, line.seq);
      }
    }
  }
  return blockers;
};
