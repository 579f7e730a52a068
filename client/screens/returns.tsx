import { useState } from "preact/hooks";
import type { IssuedRecord } from "../../server/contract/delivery.ts";
import type { LeafSummary } from "../../server/contract/views.ts";
import { address } from "../api.ts";
import { useChange } from "../change.ts";
import { Windows } from "../delivery/windows.tsx";
import { FileLink } from "../file-link.tsx";
import { Icon } from "../icon.tsx";
import { dateAndTime } from "../times.ts";
import { Shown, useView } from "../view.tsx";

const zone = Intl.DateTimeFormat().resolvedOptions().timeZone;

/** Chooses leaves and issues one record of them. */
const IssueRecord = (props: { delivery: string; kind: "accept" | "return"; leaves: readonly LeafSummary[] }) => {
  const { delivery, kind, leaves } = props;
  const { change } = useChange();
  const [left, leaveOut] = useState<ReadonlySet<string>>(new Set());
  const [issuing, issue] = useState(false);
  const chosen = leaves.filter(({ code }) => !left.has(code)).map(({ code }) => code);
  const word = kind === "return" ? "return" : "acceptance";
  const toggle = (code: string) => {
    const next = new Set(left);
    if (!next.delete(code)) next.add(code);
    leaveOut(next);
  };
  const send = async () => {
    issue(true);
    await change(
      "issueRecord",
      { delivery },
      { kind, leaves: chosen, revises: null },
      `Record of ${word} issued. It will not change any more.`,
    );
    issue(false);
  };
  if (leaves.length === 0) return <p>None without a record.</p>;
  return (
    <>
      <fieldset class="choice leaves-choice">
        <legend>Leaves for the record</legend>
        {leaves.map(({ code, item, marks }) => (
          <label key={code}>
            <input type="checkbox" checked={!left.has(code)} onChange={() => toggle(code)} />
            <span>
              <strong>{code}</strong> {item}
              {marks > 0 && `, ${marks} ${marks === 1 ? "mark" : "marks"}`}
            </span>
          </label>
        ))}
      </fieldset>
      <button type="button" class="main" disabled={issuing || chosen.length === 0} onClick={() => void send()}>
        <Icon name="record" /> Issue the record of {word} for {chosen.length} {chosen.length === 1 ? "leaf" : "leaves"}
      </button>
      <p role="status">
        {issuing ? "Writing the record with its pictures …" : chosen.length === 0 && "Choose at least one leaf."}
      </p>
    </>
  );
};

const RecordRow = (props: { delivery: string; record: IssuedRecord; revised: boolean }) => {
  const { delivery, record } = props;
  const { change } = useChange();
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
        Issued {dateAndTime(record.issuedAt, zone)} by {record.by}.
        {deadline && ` Deadline ${dateAndTime(deadline, zone)}.`}
      </p>
      {late && (
        <p class="warn">
          <Icon name="warning" /> Issued after the deadline; the record says so.
        </p>
      )}
      <p class="quiet hash">SHA-256 {record.jsonSha256.slice(0, 16)}…</p>
      <div class="buttons">
        <FileLink href={address("recordPdf", { delivery, number })}>PDF of No. {number}</FileLink>
        <FileLink href={address("recordJson", { delivery, number })}>JSON of No. {number}</FileLink>
        {!props.revised && (
          <button
            type="button"
            onClick={() =>
              void change(
                "issueRecord",
                { delivery },
                { kind: record.kind, leaves: record.leaves, revises: number },
                `A revision of No. ${number} is issued with what is known now.`,
              )
            }
          >
            Issue a revision of No. {number}
          </button>
        )}
      </div>
    </li>
  );
};

/** What goes to the supplier: leaves without a record yet, time left, records issued. */
export const Returns = (props: { delivery: string }) => {
  const { delivery } = props;
  const view = useView("returns", { delivery });
  return (
    <>
      <h1>Returns</h1>
      <Shown view={view}>
        {({ toReturn, toAccept, windows, records }) => (
          <div class="sections">
            <section aria-labelledby="time">
              <h2 id="time">Time left to claim</h2>
              <Windows windows={windows} timeZone={zone} />
            </section>
            <section aria-labelledby="to-return">
              <h2 id="to-return">To return</h2>
              <IssueRecord key={toReturn.length} delivery={delivery} kind="return" leaves={toReturn} />
            </section>
            <section aria-labelledby="to-accept">
              <h2 id="to-accept">To accept</h2>
              <IssueRecord key={toAccept.length} delivery={delivery} kind="accept" leaves={toAccept} />
            </section>
            <section class="wide" aria-labelledby="records">
              <h2 id="records">Records issued: {records.length}</h2>
              {records.length > 0 && (
                <p class="quiet">
                  A record never changes. Each holds the hash of the one before: any change after the copy with its hash
                  left this computer can be shown.
                </p>
              )}
              <ol class="rows">
                {records
                  .toSorted((a, b) => b.number - a.number)
                  .map((record) => (
                    <RecordRow
                      key={record.number}
                      delivery={delivery}
                      record={record}
                      revised={records.some(({ revises }) => revises === record.number)}
                    />
                  ))}
              </ol>
            </section>
          </div>
        )}
      </Shown>
    </>
  );
};
