import type { LeafSummary, Overview, ReturnsView } from "../../server/contract/views.ts";
import { belongs, type Listing } from "../unwrap/leaf-list.ts";

/** Something that waits for a person: what, which leaves or lines, and the place where it is done. */
export interface Task {
  readonly says: string;
  readonly which: string;
  readonly href: string;
}

const most = 6;

/** "W01, W02 and 4 more" */
const some = (codes: readonly string[]): string =>
  codes.length <= most
    ? codes.join(", ")
    : `${codes.slice(0, most - 1).join(", ")} and ${codes.length - most + 1} more`;

const task = (codes: readonly string[], one: string, many: string, href: string): readonly Task[] =>
  codes.length === 0 ? [] : [{ says: `${codes.length} ${codes.length === 1 ? one : many}`, which: some(codes), href }];

const codesOf = (leaves: readonly LeafSummary[]): readonly string[] => leaves.map(({ code }) => code);

/** All that waits, in the order of the job: count, unwrap, photograph, decide, record. Empty when nothing does. */
export const leftToDo = (overview: Overview, returns: ReturnsView | null): readonly Task[] => {
  const { id, leaves, lines } = overview;
  const listed = (listing: Listing) => codesOf(leaves.filter((leaf) => belongs(leaf, listing)));
  const list = (listing: Listing) => `/d/${id}/unwrap?show=${listing}`;
  const uncounted = lines.filter(({ counted }) => counted === null).map(({ line }) => line);
  const records = `/d/${id}/returns`;
  return [
    ...task(uncounted, "line to count", "lines to count", "#lines"),
    ...task(listed("wrapped"), "leaf to unwrap", "leaves to unwrap", list("wrapped")),
    ...task(listed("photo"), "leaf to photograph", "leaves to photograph", list("photo")),
    ...task(listed("undecided"), "leaf to decide", "leaves to decide", list("undecided")),
    ...task(listed("held"), "leaf held, to be settled", "leaves held, to be settled", list("held")),
    ...task(codesOf(returns?.toReturn ?? []), "return without a record", "returns without a record", records),
    ...task(
      codesOf(returns?.toAccept ?? []),
      "accepted leaf without a record",
      "accepted leaves without a record",
      records,
    ),
  ];
};
