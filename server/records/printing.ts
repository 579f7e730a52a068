import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { type AllotmentWords, allotmentSheet } from "./allotment-sheet.ts";
import { cardSheet } from "./card-sheet.ts";
import { type LeafLabel, labelSheet } from "./label-sheet.ts";
import type { Copies } from "./pages/leaf-figures.ts";
import { recordPdf } from "./record-pdf.ts";
import type { LeafRecord } from "./record-schema.ts";

/** A sheet to be printed. `folder` holds the pictures of a record as `<name>.jpg`; `date` is ISO 8601. */
export type Printing =
  | { readonly sheet: "record"; readonly record: LeafRecord; readonly jsonSha256: string; readonly folder: string }
  | { readonly sheet: "labels"; readonly labels: readonly LeafLabel[]; readonly date: string }
  | { readonly sheet: "allotment"; readonly plan: AllotmentWords; readonly date: string }
  | { readonly sheet: "card"; readonly id: string; readonly date: string };

const copiesIn = async (folder: string, { pictures }: LeafRecord): Promise<Copies> => {
  const copies = new Map<string, Buffer>();
  for (const { name, copy } of pictures)
    if (copy.kind === "made") copies.set(name, await readFile(join(folder, `${name}.jpg`)));
  return copies;
};

/** Prints a sheet as a PDF. A long record takes seconds and reads the fonts anew: it is done in a child process. */
export const printed = async (printing: Printing): Promise<Buffer> => {
  switch (printing.sheet) {
    case "record":
      return recordPdf(printing.record, await copiesIn(printing.folder, printing.record), printing.jsonSha256);
    case "labels":
      return labelSheet(printing.labels, printing.date);
    case "allotment":
      return allotmentSheet(printing.plan, printing.date);
    case "card":
      return cardSheet(printing.id, printing.date);
  }
};
