import type { Delivery, IssuedRecord } from "../contract/delivery.ts";
import { instantWords } from "./instant-words.ts";

/** A file that goes with a record, under the name it has in the zip. */
interface SentFile {
  readonly name: string;
  readonly sha256: string;
}

/** The files of a record as sent: its JSON, its PDF, the copies of its photos. */
export const sentFiles = ({ jsonSha256, pdfSha256, copies = [] }: IssuedRecord): SentFile[] => [
  { name: "record.pdf", sha256: pdfSha256 },
  { name: "record.json", sha256: jsonSha256 },
  ...copies.map(({ name, sha256 }) => ({ name, sha256 })),
];

/** One line a file in the form that `sha256sum -c` reads and RFC 8493 gives payload manifests. */
export const manifestOf = (record: IssuedRecord): string =>
  sentFiles(record)
    .map(({ name, sha256 }) => `${sha256}  ${name}\n`)
    .join("");

const titleOf = ({ kind, number, revision }: IssuedRecord): string =>
  `${kind === "return" ? "Return" : "Acceptance"} record ${number}${revision > 1 ? `, revision ${revision}` : ""}`;

/** What the letter is about, on one line. */
export const subjectOf = (record: IssuedRecord, { job }: Pick<Delivery, "job">): string =>
  `${titleOf(record)}: order ${job.orderNumber}, delivery note ${job.noteNumber}`;

const leavesWords = (leaves: readonly string[]): string =>
  `${leaves.length === 1 ? "leaf" : `${leaves.length} leaves`} ${leaves.join(", ")}`;

const claimOf = ({ kind, leaves }: IssuedRecord, { job }: Pick<Delivery, "job">): string => {
  const of = `of your delivery of ${instantWords(job.deliveredAt, job.timeZone)}`;
  return kind === "return"
    ? `We return ${leavesWords(leaves)} ${of}; why, and what we ask for each, is in the record.`
    : `We accept ${leavesWords(leaves)} ${of}, as the record says.`;
};

const deadlineOf = ({ deadline, issuedAt, kind }: IssuedRecord, timeZone: string): string => {
  if (deadline === null) return kind === "return" ? "No claim window is agreed for this." : "";
  const when = `${instantWords(deadline, timeZone)} (${timeZone})`;
  return Date.parse(issuedAt) < Date.parse(deadline)
    ? `Notice is due by ${when}; this record was issued ${instantWords(issuedAt, timeZone)}.`
    : `Notice was due by ${when}. This record was issued later, ${instantWords(issuedAt, timeZone)}, and says so.`;
};

/**
 * The letter to the supplier as plain text: number, claim, deadline, the hash at the head of the chain of records, and the
 * files that go with it.
 */
export const letterOf = (record: IssuedRecord, delivery: Pick<Delivery, "job">): string => {
  const { job } = delivery;
  const paragraphs = [
    `To ${job.supplier}`,
    subjectOf(record, delivery),
    claimOf(record, delivery),
    deadlineOf(record, job.timeZone),
    `Hash at the head of our records (SHA-256 of record.json):\n${record.jsonSha256}`,
    "Please keep this letter. Any change to this record, to those before it or to the copies of the photos after this letter left our computer can be shown by that hash.",
    `Files, each with its SHA-256:\n${manifestOf(record).trimEnd()}`,
    `${record.by}\n${job.fitter}\n${job.site}`,
  ];
  return `${paragraphs.filter((paragraph) => paragraph !== "").join("\n\n")}\n`;
};
