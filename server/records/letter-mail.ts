import MailComposer from "nodemailer/lib/mail-composer/index.js";
import type { Delivery, IssuedRecord } from "../contract/delivery.ts";
import { letterOf, subjectOf } from "./letter.ts";

/**
 * The letter as a mail that is not sent (RFC 5322), with the PDF in it: a mail program opens it as a draft (`X-Unsent`). Who it
 * is from and to is left to that program; the message names no computer.
 */
export const letterMail = (
  record: IssuedRecord,
  delivery: Pick<Delivery, "id" | "job">,
  pdf: Buffer,
): Promise<Buffer> =>
  new MailComposer({
    subject: subjectOf(record, delivery),
    text: letterOf(record, delivery),
    date: new Date(record.issuedAt),
    messageId: `<record-${record.number}.${record.jsonSha256.slice(0, 16)}@${delivery.id}.invalid>`,
    headers: { "X-Unsent": "1" },
    attachments: [{ filename: `record-${record.number}.pdf`, content: pdf, contentType: "application/pdf" }],
  })
    .compile()
    .build();
