import { useState } from "preact/hooks";
import { ulid } from "ulid";
import type { IssuedRecord } from "../../server/contract/delivery.ts";
import { address } from "../api.ts";
import { useChange } from "../change.ts";
import { FileLink } from "../file-link.tsx";
import { Icon } from "../icon.tsx";
import { Only, useMay } from "../may.tsx";
import { dateAndTime } from "../times.ts";
import { LetterText } from "./letter-text.tsx";
import { SupplierLinks } from "./supplier-links.tsx";

/** A record issued: what it is, the hash that stands for it, its files, and what goes to the supplier. */
export const RecordRow = (props: { delivery: string; record: IssuedRecord; revised: boolean; timeZone: string }) => {
  const { delivery, record, timeZone } = props;
  const { change } = useChange();
  const may = useMay();
  const [requestId] = useState(() => ulid());
  const { number, deadline } = record;
  const late = deadline !== null && Date.parse(record.issuedAt) > Date.parse(deadline);
  return (
    <li class="row record">
      <p>
        <strong>
          No. {number}
          {record.revision > 1 && `, revision ${record.revision} of No. ${record.revises}`}
        </strong>{" "}
        {record.kind === "return" ? "Return" : "Acceptance"} of {record.leaves.join(", ")}
      </p>
      <p class="quiet">
        Issued {dateAndTime(record.issuedAt, timeZone)} by {record.by}.
        {deadline && ` Deadline ${dateAndTime(deadline, timeZone)}.`}
      </p>
      {late && (
        <p class="warn">
          <Icon name="warning" /> Issued after the deadline; the record says so.
        </p>
      )}
      <p class="quiet hash">Hash at the head, SHA-256: {record.jsonSha256}</p>
      <div class="buttons">
        <FileLink href={address("recordPdf", { delivery, number })}>PDF of No. {number}</FileLink>
        <FileLink href={address("recordJson", { delivery, number })}>JSON of No. {number}</FileLink>
        <FileLink href={address("recordZip", { delivery, number })}>Zip for the supplier, No. {number}</FileLink>
        <FileLink href={address("recordMail", { delivery, number })}>Mail file of No. {number}</FileLink>
      </div>
      <LetterText delivery={delivery} number={number} />
      <Only may="linkRecord">
        <SupplierLinks delivery={delivery} number={number} />
      </Only>
      {!props.revised && may("issueRecord") && (
        <div class="buttons">
          <button
            type="button"
            onClick={() =>
              void change(
                "issueRecord",
                { delivery },
                { kind: record.kind, leaves: record.leaves, revises: number, requestId },
                `A revision of No. ${number} is issued with what is known now.`,
              )
            }
          >
            Issue a revision of No. {number}
          </button>
        </div>
      )}
    </li>
  );
};
