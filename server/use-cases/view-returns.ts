import type { Leaf, Outcome } from "../contract/leaf.ts";
import type { ReturnsView } from "../contract/views.ts";
import { claimWindows } from "../rules/claim-window.ts";
import type { Site } from "../site.ts";
import { calendarOf } from "./calendar.ts";
import { summarizeLeaf } from "./summarize-leaf.ts";

/** What is decided and stands on no record yet, the windows that run, and the records that were issued. */
export const viewReturns = (site: Site, deliveryId: string): ReturnsView => {
  const delivery = site.store.open(deliveryId).read();
  const measured = site.measuring.measured(deliveryId);
  const { job, terms, leaves, records } = delivery;
  const recorded = (leaf: Leaf, kind: "accept" | "return"): boolean =>
    records.some((record) => record.kind === kind && record.leaves.includes(leaf.code));
  const open = (kind: "accept" | "return", outcomes: readonly Outcome[]) =>
    leaves
      .filter((leaf) => leaf.decision !== null && outcomes.includes(leaf.decision.outcome) && !recorded(leaf, kind))
      .map((leaf) => summarizeLeaf(leaf, delivery, measured));
  const unwrapped = leaves.flatMap(({ unwrappedAt }) => (unwrappedAt === null ? [] : [unwrappedAt]));
  const unwrappedAt = unwrapped.sort((a, b) => Date.parse(a) - Date.parse(b))[0] ?? null;
  return {
    toReturn: open("return", ["return"]),
    toAccept: open("accept", ["accept", "accept-with-allowance"]),
    windows: claimWindows(terms, { deliveredAt: job.deliveredAt, unwrappedAt }, calendarOf(delivery), site.now()),
    records: delivery.records,
  };
};
