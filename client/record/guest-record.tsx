import type { Reply } from "../../server/contract/calls.ts";
import { address } from "../api.ts";
import { FileLink } from "../file-link.tsx";
import { Icon } from "../icon.tsx";
import { dateAndTime } from "../times.ts";

const sizeOf = (bytes: number): string =>
  bytes < 1_000_000 ? `${Math.ceil(bytes / 1000)} kB` : `${(bytes / 1_000_000).toFixed(1)} MB`;

/** Where a file of a record is had. */
const fileAddress = (delivery: string, number: number, name: string): string => {
  if (name === "record.pdf") return address("recordPdf", { delivery, number });
  if (name === "record.json") return address("recordJson", { delivery, number });
  return address("recordCopy", { delivery, number, copy: name });
};

/** A record as the supplier sees it: what is claimed, by whom and by when, and every file with its hash. Fit to print. */
export const GuestRecord = (props: { delivery: string; until: string; record: Reply<"record"> }) => {
  const { delivery, record } = props;
  const { number, timeZone, leaves, deadline } = record;
  const facts: readonly (readonly [string, string])[] = [
    ["From", record.job],
    ["To", record.supplier],
    [leaves.length === 1 ? "Leaf" : `${leaves.length} leaves`, leaves.join(", ")],
    ["Issued", `${dateAndTime(record.issuedAt, timeZone)} (${timeZone})`],
    ["Deadline", deadline ? `${dateAndTime(deadline, timeZone)} (${timeZone})` : "none agreed"],
    ["By", record.by],
  ];
  return (
    <>
      <h1>
        {record.kind === "return" ? "Return" : "Acceptance"}, record No. {number}
        {record.revision > 1 && <span class="quiet"> revision {record.revision}</span>}
      </h1>
      <dl class="facts">
        {facts.map(([what, says]) => (
          <div key={what}>
            <dt>{what}</dt>
            <dd>{says}</dd>
          </div>
        ))}
      </dl>
      <p>
        Hash at the head of the records, SHA-256. It stands for this record and all before it: keep it, and any later
        change can be shown.
      </p>
      <p class="hash">{record.headSha256}</p>
      <p class="buttons not-printed">
        <FileLink href={address("recordPdf", { delivery, number })}>Open the PDF</FileLink>
        <FileLink href={address("recordZip", { delivery, number })}>All files as one zip</FileLink>
        <button type="button" onClick={() => print()}>
          Print this page
        </button>
      </p>
      <h2>Files: {record.files.length}</h2>
      <ul class="rows files">
        {record.files.map(({ name, bytes, sha256 }) => (
          <li key={name} class="row">
            {bytes === null ? (
              <span>
                <Icon name="warning" /> <strong>{name}</strong> is missing on the computer. Ask for it.
              </span>
            ) : (
              <a href={fileAddress(delivery, number, name)} target="_blank" rel="noreferrer">
                <strong>{name}</strong> {sizeOf(bytes)}
              </a>
            )}
            <span class="hash">{sha256}</span>
          </li>
        ))}
      </ul>
      <p class="quiet">
        This link shows this one record, until {dateAndTime(props.until, timeZone)} ({timeZone}).
      </p>
    </>
  );
};
