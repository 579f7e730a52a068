import { writeClosingPages } from "./pages/closing-pages.ts";
import { recordTitle, writeFrontPages } from "./pages/front-pages.ts";
import type { Copies } from "./pages/leaf-figures.ts";
import { writeLeafPages } from "./pages/leaf-pages.ts";
import { closeSheet, openSheet } from "./paper/sheet.ts";
import type { LeafRecord } from "./record-schema.ts";

/**
 * A record as a tagged A4 PDF. The same record and copies give the same bytes. `jsonSha256` is the hash of the record's
 * canonical JSON and is printed on every page; a picture without a copy leaves a frame that says why.
 */
export const recordPdf = (record: LeafRecord, copies: Copies, jsonSha256: string): Promise<Buffer> => {
  const title = recordTitle(record);
  const sheet = openSheet({ title: `${title}: ${record.job.name}`, date: record.issuedAt });
  writeFrontPages(sheet, record);
  writeLeafPages(sheet, record, copies);
  writeClosingPages(sheet, record, copies, jsonSha256);
  return closeSheet(sheet, (page, of) => ({
    left: title,
    right: `order ${record.job.orderNumber}, note ${record.job.noteNumber} · page ${page} of ${of}`,
    foot: `Record ${record.number}, revision ${record.revision}. SHA-256 of its JSON: ${jsonSha256}`,
  }));
};
