import { instantWords } from "../instant-words.ts";
import { linesOf, printable } from "../paper/lines.ts";
import { decorate, ensure, ink, pt, type Sheet } from "../paper/sheet.ts";
import { writeFacts, writeTable } from "../paper/table.ts";
import { drawLines, write } from "../paper/text.ts";
import type { LeafRecord, RecordLeaf } from "../record-schema.ts";
import { askWord, figure, markName } from "../wording.ts";

const windowWords = {
  shortage: "shortage",
  damage: "damage",
  defect: "defect",
  "haulier-notice": "notice to the haulier",
  "haulier-claim": "claim on the haulier",
} as const;

/** "31 h before it shut" or "2 h after it shut", as at the time of issue. */
const timeLeft = (hoursLeft: number): string =>
  hoursLeft >= 0 ? `${figure(hoursLeft, 1)} h before it shuts` : `${figure(-hoursLeft, 1)} h after it shut`;

/** "Return record 3, revision 2". */
export const recordTitle = ({ kind, number, revision }: LeafRecord): string =>
  `${kind === "return" ? "Return" : "Acceptance"} record ${number}${revision > 1 ? `, revision ${revision}` : ""}`;

const deadlineWords = (record: LeafRecord): string => {
  if (record.deadline === null) return record.kind === "return" ? "No claim window is agreed for this." : "";
  const when = instantWords(record.deadline, record.job.timeZone);
  return record.late ? `${when}. LATE: a window was shut when this record was issued.` : when;
};

const writeDelivery = (sheet: Sheet, record: LeafRecord): void => {
  const { job } = record;
  const local = (instant: string): string => instantWords(instant, job.timeZone);
  writeFacts(sheet, [
    ["To", job.supplier],
    ["From", `${job.fitter}, ${job.site}`],
    ["Job", job.name],
    ["Order, delivery note", `${job.orderNumber}, ${job.noteNumber}`],
    ["Delivered", `${local(job.deliveredAt)} by ${job.haulier}`],
    ["Issued", `${local(record.issuedAt)} by ${record.by}`],
    ["Notice due", deadlineWords(record)],
    [
      "Revises",
      record.revises
        ? `record ${record.revises.number}, which stays as it was sent (${record.revises.jsonSha256})`
        : "",
    ],
  ]);
  write(sheet, "small", `All times are local, ${job.timeZone}. Money in ${job.currency}.`);
};

const writeLines = (sheet: Sheet, record: LeafRecord): void => {
  const sum = (of: "affected" | "value"): number => record.lines.reduce((total, line) => total + line[of], 0);
  write(sheet, "section", record.kind === "return" ? "What is claimed" : "What is accepted");
  writeTable(
    sheet,
    [
      { title: "Line", share: 1 },
      { title: "Item", share: 4 },
      { title: "Product code", share: 3 },
      { title: record.kind === "return" ? "Affected" : "Accepted", share: 1.6, align: "right" },
      { title: "Delivered", share: 1.6, align: "right" },
      { title: "Price", share: 1.8, align: "right" },
      { title: "Value", share: 2, align: "right" },
    ],
    [
      ...record.lines.map((line) => [
        line.id,
        line.item + (line.fireRating ? `, ${line.fireRating}` : ""),
        line.productCode,
        String(line.affected),
        String(line.delivered),
        line.price.toFixed(2),
        line.value.toFixed(2),
      ]),
      ["", "Sum", "", String(sum("affected")), "", "", sum("value").toFixed(2)],
    ],
  );
  for (const ask of record.asks) write(sheet, "strong", `Asked: ${ask}`);
  for (const { leaves, differences } of record.pairs) {
    const apart = differences.flatMap(({ a, b, deltaE, u95 }) =>
      deltaE === null
        ? []
        : [`face ${a.face} to face ${b.face} ${figure(deltaE, 1)}${u95 === null ? "" : ` ± ${figure(u95, 1)}`} ΔE00`],
    );
    const measured =
      apart.length > 0 ? `Measured apart: ${apart.join("; ")}.` : "How far they differ was not measured.";
    write(sheet, "body", `${leaves.join(" and ")} were ordered as a matched pair and are one unit. ${measured}`);
  }
};

const found = ({ marks, decision }: RecordLeaf): string =>
  marks.length > 0
    ? marks.map(({ kind, face, place }, i) => `${i + 1}. ${markName(kind)}, face ${face}, ${place}`).join("\n")
    : (decision?.reason.slice(0, 160) ?? "");

const writeLeaves = (sheet: Sheet, record: LeafRecord): void => {
  write(sheet, "section", "Leaves");
  writeTable(
    sheet,
    [
      { title: "Leaf", share: 1.2 },
      { title: "Line", share: 1 },
      { title: "Opening", share: 1.6 },
      { title: "Recorded", share: 6 },
      { title: record.kind === "return" ? "Asked" : "Allowance", share: 2 },
    ],
    record.leaves.map((leaf) => [
      leaf.code,
      leaf.line ?? "none",
      leaf.opening?.code ?? "not placed",
      found(leaf),
      record.kind === "return" ? askWord(leaf) : (leaf.decision?.allowance?.toFixed(2) ?? ""),
    ]),
  );
  const cut = record.leaves.filter((leaf) => leaf.cut).map(({ code }) => code);
  const sound = record.leaves.filter((leaf) => !leaf.cut).map(({ code }) => code);
  if (sound.length > 0) write(sheet, "strong", `Uncut and unfitted at the time of issue: ${sound.join(", ")}.`);
  if (cut.length > 0) write(sheet, "strong", `Cut, hinged or trimmed on site: ${cut.join(", ")}.`);
};

const writeWindows = (sheet: Sheet, { windows, job, late }: LeafRecord): void => {
  if (windows.length === 0) return;
  write(sheet, "section", "Claim windows");
  if (late)
    write(sheet, "strong", "This record is late for at least one window. It is issued all the same and says so.");
  writeTable(
    sheet,
    [
      { title: "Window", share: 2.4 },
      { title: "Leaves", share: 2 },
      { title: "Shuts", share: 2.6 },
      { title: "Issued", share: 2.4 },
      { title: "How it was counted", share: 5 },
    ],
    windows.map(({ kind, to, leaves, deadline, hoursLeft, counted }) => [
      `${windowWords[kind]} (${to})`,
      leaves.join(", "),
      instantWords(deadline, job.timeZone),
      timeLeft(hoursLeft),
      counted,
    ]),
  );
};

const writeSignatures = (sheet: Sheet, { by, job }: LeafRecord): void => {
  const { doc, body, left, width } = sheet;
  ensure(sheet, pt(40));
  write(sheet, "section", "Signatures");
  const y = doc.y + pt(14);
  const column = (width - pt(10)) / 2;
  const who = [`For ${job.fitter} (${by}), date`, `Received for ${job.supplier}, name and date`];
  for (const [index, words] of who.entries()) {
    const x = left + index * (column + pt(10));
    decorate(sheet, () =>
      doc
        .moveTo(x, y)
        .lineTo(x + column, y)
        .lineWidth(0.7)
        .strokeColor(ink.text)
        .stroke(),
    );
    const label = doc.struct("P", {}, () => {
      doc.font("text").fontSize(8).fillColor(ink.soft);
      drawLines(sheet, linesOf(printable(words, sheet.has), column, doc).slice(0, 3), {
        x,
        y: y + 3,
        width: column,
        size: 8,
      });
    });
    body.add(label);
  }
  doc.y = y + pt(14);
};

/** What is claimed or accepted, under which order, by when, and how it was looked at. */
export const writeFrontPages = (sheet: Sheet, record: LeafRecord): void => {
  write(sheet, "title", recordTitle(record));
  writeDelivery(sheet, record);
  writeLines(sheet, record);
  writeLeaves(sheet, record);
  writeWindows(sheet, record);
  write(sheet, "section", "How it was looked at and measured");
  const { distanceM, light } = record.terms.viewing;
  write(sheet, "body", `Marks are judged from ${figure(distanceM)} m under this light: ${light}.`);
  for (const sentence of record.method) write(sheet, "body", sentence);
  writeSignatures(sheet, record);
};
