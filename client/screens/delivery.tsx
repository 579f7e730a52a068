import { LeftToDo } from "../delivery/left-to-do-list.tsx";
import { LinesTable } from "../delivery/lines-table.tsx";
import { Money } from "../delivery/money.tsx";
import { StoreLog } from "../delivery/store-log.tsx";
import { Windows } from "../delivery/windows.tsx";
import { Icon } from "../icon.tsx";
import { dateAndTime } from "../times.ts";
import { Shown, useView } from "../view.tsx";

/** The first screen of a delivery: the count line by line, what is left to do, how long the windows are open. */
export const DeliveryScreen = (props: { delivery: string }) => {
  const { delivery } = props;
  const view = useView("overview", { delivery });
  return (
    <Shown view={view}>
      {(overview) => {
        const { job } = overview;
        return (
          <>
            <h1>{job.name}</h1>
            <p class="quiet">
              {job.supplier}, order {job.orderNumber}, note {job.noteNumber}; delivered{" "}
              {dateAndTime(job.deliveredAt, job.timeZone)} to {job.site}
            </p>
            <div class="sections">
              <section aria-labelledby="windows">
                <h2 id="windows">Time left to claim</h2>
                <Windows windows={overview.windows} timeZone={job.timeZone} />
              </section>
              <section aria-labelledby="left">
                <h2 id="left">Left to do</h2>
                <LeftToDo overview={overview} />
              </section>
              <section class="wide" aria-labelledby="lines">
                <h2 id="lines">Count by line</h2>
                <LinesTable delivery={delivery} seq={overview.seq} leaves={overview.leaves} lines={overview.lines} />
              </section>
              <section aria-labelledby="ready">
                <h2 id="ready">Ready to hang: {overview.readyToHang.length}</h2>
                {overview.readyToHang.length === 0 && (
                  <p>None yet: a leaf is ready once it is accepted and has its opening.</p>
                )}
                <ul class="ready">
                  {overview.readyToHang.map(({ opening, leaf }) => (
                    <li key={`${opening} ${leaf}`}>
                      <a href={`/d/${delivery}/unwrap/${leaf}`}>
                        <strong>{opening}</strong> {leaf}
                      </a>
                    </li>
                  ))}
                </ul>
              </section>
              <section aria-labelledby="money">
                <h2 id="money">Money</h2>
                <Money money={overview.money} currency={job.currency} />
              </section>
              <section class="wide" aria-labelledby="store">
                <h2 id="store">Store</h2>
                <StoreLog
                  delivery={delivery}
                  store={overview.store}
                  limits={overview.terms.store}
                  timeZone={job.timeZone}
                />
              </section>
            </div>
            <div class="buttons">
              <a class="button" href={`/d/${delivery}/terms`}>
                <Icon name="record" /> Supplier's terms
              </a>
              <a class="button" href={`/d/${delivery}/chart`}>
                <Icon name="chart" /> Chart
              </a>
              <a class="button" href={`/d/${delivery}/repeat`}>
                <Icon name="again" /> How repeatable are my photos?
              </a>
              <a class="button" href={`/d/${delivery}/history`}>
                <Icon name="history" /> History
              </a>
              <a class="button" href="/guide">
                <Icon name="camera" /> How to photograph
              </a>
            </div>
          </>
        );
      }}
    </Shown>
  );
};
