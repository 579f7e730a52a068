import { useState } from "preact/hooks";
import { call } from "../api.ts";
import { useDesk } from "../desk.ts";
import { Icon } from "../icon.tsx";
import { NewOffer } from "../people/new-offer.tsx";
import { dateAndTime } from "../times.ts";
import { Shown, useView } from "../view.tsx";

const roleWords = { foreman: "Foreman", hand: "Site hand", guest: "Guest" } as const;

/** Who is let in and on which device; a lost phone is shut out here, a new one let in. */
export const People = () => {
  const view = useView("devices", {});
  const deliveries = useView("listDeliveries", {});
  const desk = useDesk();
  const own = desk.state.value?.session.id;
  const [says, say] = useState("");
  const zone = Intl.DateTimeFormat().resolvedOptions().timeZone;
  const names = new Map(deliveries.kind === "ready" ? deliveries.value.map(({ id, name }) => [id, name]) : []);
  const shutOut = async (id: string, device: string) => {
    const outcome = await call("shutOut", { device: id });
    if (outcome.kind === "unreachable") return say("The laptop cannot be reached. Nothing was changed; try again.");
    say(outcome.kind === "ok" ? `${device} is shut out.` : outcome.problem.detail);
    desk.freshness.value += 1;
  };
  return (
    <>
      <h1>People and devices</h1>
      <NewOffer deliveries={deliveries.kind === "ready" ? deliveries.value : []} />
      <h2>Let in</h2>
      <p role="status">{says}</p>
      <Shown view={view}>
        {(devices) => (
          <ul class="rows">
            {devices.map(({ id, name, device, role, delivery, record, seen }) => (
              <li key={id} class="row">
                <strong>
                  {name ?? "No name yet"} on {device}
                </strong>
                <span>
                  {roleWords[role]}
                  {record !== null && `, record ${record}`}
                  {delivery === null ? ", all deliveries" : `, ${names.get(delivery) ?? delivery}`}
                </span>
                <span class="quiet">Last seen {dateAndTime(seen, zone)}</span>
                {id === own ? (
                  <span class="quiet">This device</span>
                ) : (
                  <button type="button" onClick={() => void shutOut(id, device)}>
                    <Icon name="banned" /> Shut out {device}
                  </button>
                )}
              </li>
            ))}
          </ul>
        )}
      </Shown>
    </>
  );
};
