import type { ClaimWindow } from "../../server/contract/views.ts";
import { Icon, type IconName } from "../icon.tsx";
import { dateAndTime, timeLeft, urgency } from "../times.ts";
import { windowWords } from "../words.ts";

const icons: Readonly<Record<ReturnType<typeof urgency>, IconName>> = { shut: "shut", soon: "warning", open: "clock" };

const List = (props: { windows: readonly ClaimWindow[]; timeZone: string }) => (
  <ul class="windows">
    {props.windows.map((window) => {
      const state = window.shut ? "shut" : urgency(window.hoursLeft);
      return (
        <li key={`${window.kind} ${window.to} ${window.opensAt}`} class={state}>
          <Icon name={icons[state]} />
          <div>
            <strong>{windowWords[window.kind]}</strong>: {timeLeft(window.hoursLeft)}
            <br />
            <span class="quiet">
              {dateAndTime(window.deadline, props.timeZone)}, to the {window.to}. {window.counted}
            </span>
          </div>
        </li>
      );
    })}
  </ul>
);

/**
 * Claim windows, what runs out first on top: time left in words, the moment it shuts, how that was counted.
 * Windows that are shut are counted and fold away.
 */
export const Windows = (props: { windows: readonly ClaimWindow[]; timeZone: string }) => {
  const open = props.windows.filter(({ shut }) => !shut).toSorted((a, b) => a.hoursLeft - b.hoursLeft);
  const shut = props.windows.filter((window) => window.shut).toSorted((a, b) => b.hoursLeft - a.hoursLeft);
  if (props.windows.length === 0) return <p>The supplier's terms name no window.</p>;
  return (
    <>
      {open.length > 0 && <List windows={open} timeZone={props.timeZone} />}
      {shut.length > 0 && (
        <details>
          <summary>{open.length === 0 ? `All ${shut.length} windows are shut` : `${shut.length} shut`}</summary>
          <List windows={shut} timeZone={props.timeZone} />
        </details>
      )}
    </>
  );
};
