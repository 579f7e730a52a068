import type { Overview } from "../contract/views.ts";
import { claimWindows } from "../rules/claim-window.ts";
import { lineBalances } from "../rules/line-balance.ts";
import { moneyOf } from "../rules/money.ts";
import { readyToHang } from "../rules/ready-to-hang.ts";
import { storeLog } from "../rules/store-log.ts";
import type { Site } from "../site.ts";
import { calendarOf } from "./calendar.ts";
import { openConflicts } from "./overwrite.ts";
import { summarizeLeaf } from "./summarize-leaf.ts";

/** The first screen of a delivery. Windows that run from unwrapping are shown for the leaf unwrapped first. */
export const viewOverview = (site: Site, deliveryId: string): Overview => {
  const store = site.store.open(deliveryId);
  const delivery = store.read();
  const measured = site.measuring.measured(deliveryId);
  const now = site.now();
  const { job, terms, leaves, lines } = delivery;
  const balances = lineBalances(delivery);
  const unwrapped = leaves.flatMap(({ unwrappedAt }) => (unwrappedAt === null ? [] : [unwrappedAt]));
  const unwrappedAt = unwrapped.sort((a, b) => Date.parse(a) - Date.parse(b))[0] ?? null;
  return {
    id: deliveryId,
    job,
    terms,
    lines: balances,
    orderLines: lines,
    money: moneyOf(balances, leaves),
    windows: claimWindows(terms, { deliveredAt: job.deliveredAt, unwrappedAt }, calendarOf(delivery), now),
    store: storeLog(delivery.readings, terms.store, now),
    leaves: leaves.map((leaf) => summarizeLeaf(leaf, delivery, measured)),
    readyToHang: readyToHang(delivery),
    progress: site.measuring.progress(deliveryId),
    conflicts: openConflicts(delivery),
    seq: store.head().seq,
    head: store.head(),
  };
};
