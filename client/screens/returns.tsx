import { Windows } from "../delivery/windows.tsx";
import { IssueRecord } from "../record/issue-record.tsx";
import { RecordRow } from "../record/record-row.tsx";
import { Shown, useView } from "../view.tsx";

const zone = Intl.DateTimeFormat().resolvedOptions().timeZone;

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
                      timeZone={zone}
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
