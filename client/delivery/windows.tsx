import type { ClaimWindow } from "../../server/contract/views.ts";
import { Icon, type IconName } from "../icon.tsx";
import { dateAndTime, timeLeft, urgency } from "../times.ts";
import { windowWords } from "../words.ts";

const icons: Readonly<Record<ReturnType<typeof urgency>, IconName>> = { shut: "shut", soon: "warning", open: "clock" };

/** Claim windows, what runs out first on top: time left in words, the moment it shuts, how that was counted. */
export const Windows = (props: { windows: readonly ClaimWindow[]; timeZone: string }) => (
  <ul class="windows">
    {props.windows
      .toSorted((a, b) => Number(a.shut) - Number(b.shut) || a.hoursLeft - b.hoursLeft)
      .map((window) => {
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
    {props.windows.length === 0 && <li>The supplier's terms name no window.</li>}
  </ul>
);
