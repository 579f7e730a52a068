import { stringify } from "csv-stringify/sync";
import type { Site } from "../site.ts";
import { shownAsText } from "./formula-cells.ts";
import { summarizeLeaf } from "./summarize-leaf.ts";

const columns = ["leaf", "line", "item", "opening", "identity", "decision", "reason", "marks", "record"];

/**
 * One row a leaf as CSV (RFC 4180) with a byte-order mark, as spreadsheets want it. A cell that a spreadsheet would take for a
 * formula begins with an apostrophe (OWASP, CSV injection).
 */
export const printLeavesCsv = (site: Site, deliveryId: string): string => {
  const delivery = site.store.open(deliveryId).read();
  const measured = site.measuring.measured(deliveryId);
  const rows = delivery.leaves.map((leaf) => {
    const { item, opening, identity, outcome, marks } = summarizeLeaf(leaf, delivery, measured);
    const record = delivery.records.findLast(({ leaves }) => leaves.includes(leaf.code));
    return [
      leaf.code,
      leaf.line ?? "",
      item,
      opening ?? "",
      identity,
      outcome,
      leaf.decision?.reason ?? "",
      marks,
      record?.number ?? "",
    ];
  });
  return stringify([columns, ...rows.map((row) => row.map((cell) => shownAsText(String(cell))))], {
    bom: true,
    record_delimiter: "windows",
  });
};
