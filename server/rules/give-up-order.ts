import type { Delivery, Opening } from "../contract/delivery.ts";

type Kind = Delivery["spaces"][number]["kind"];

/** How much a space is looked at. Common practice, no source. */
const lookedAt: readonly Kind[] = ["store", "room", "hall", "landing", "corridor"];

/**
 * Openings that may stay empty while leaves are awaited for their order lines, the least seen first: if leaves are short, the
 * hidden opening waits, never the corridor. Among equals the last of the schedule waits first. `usable` tells which leaves can hang.
 * Common practice, no source.
 */
export const giveUpOrder = (delivery: Delivery, usable: ReadonlySet<string>): string[] => {
  const { openings, spaces, lines, leaves } = delivery;
  const awaited = new Set(
    lines
      .filter(({ id, ordered }) => leaves.filter(({ line, code }) => line === id && usable.has(code)).length < ordered)
      .map(({ id }) => id),
  );
  const seen = ({ sides }: Opening): number =>
    Math.max(0, ...sides.map((side) => lookedAt.indexOf(spaces.find(({ id }) => id === side)?.kind ?? "store")));
  return openings
    .filter(({ existingLeaf, lines: wanted }) => existingLeaf === null && wanted.some((line) => awaited.has(line)))
    .toReversed()
    .toSorted((a, b) => seen(a) - seen(b))
    .map(({ id }) => id);
};
