import { Icon } from "../icon.tsx";
import { Shown, useView } from "../view.tsx";

const day = new Intl.DateTimeFormat("en-GB", { weekday: "short", day: "numeric", month: "short", year: "numeric" });

/** The first page: all deliveries, newest first. */
export const Deliveries = () => {
  const view = useView("listDeliveries", {});
  return (
    <>
      <h1>Deliveries</h1>
      <Shown view={view}>
        {(deliveries) => (
          <ul class="rows">
            {deliveries.map(({ id, name, supplier, deliveredAt, leaves }) => (
              <li key={id}>
                <a class="row" href={`/d/${id}`}>
                  <strong>{name}</strong>
                  <span>
                    {leaves} leaves from {supplier}, {day.format(new Date(deliveredAt))}
                  </span>
                </a>
              </li>
            ))}
            {deliveries.length === 0 && <li>No delivery yet.</li>}
          </ul>
        )}
      </Shown>
      <div class="buttons">
        <a class="button" href="/new">
          <Icon name="unwrap" /> New delivery
        </a>
        <a class="button" href="/guide">
          <Icon name="camera" /> How to photograph
        </a>
      </div>
    </>
  );
};
