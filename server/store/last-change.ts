import { isDeepStrictEqual } from "node:util";
import { applyPatches } from "immer";
import type { Delivery } from "../contract/delivery.ts";
import type { JournalLine } from "./journal-line.ts";

/**
 * The last of some lines that changed what `read` gives, found by taking them back one after the other from the document that
 * they led to; null where it is in the end as it was before them.
 */
export const lastChange = (
  lines: readonly JournalLine[],
  document: Delivery,
  read: (document: Delivery) => unknown,
): JournalLine | null => {
  const now = read(document);
  let earlier = document;
  let last: JournalLine | null = null;
  for (const line of lines.toReversed()) {
    earlier = applyPatches(earlier, [...line.inverse]);
    if (last === null && !isDeepStrictEqual(read(earlier), now)) last = line;
  }
  return isDeepStrictEqual(read(earlier), now) ? null : last;
};
