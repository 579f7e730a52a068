import type { Overview } from "../../server/contract/views.ts";
import { OpenConflicts } from "../conflict/open-conflicts.tsx";
import { Icon } from "../icon.tsx";
import { useView } from "../view.tsx";
import { leftToDo } from "./left-to-do.ts";

/** What waits for a person, each with the way there; what waits for the measuring stands last. */
export const LeftToDo = (props: { overview: Overview }) => {
  const { overview } = props;
  const returns = useView("returns", { delivery: overview.id });
  const tasks = leftToDo(overview, returns.kind === "ready" ? returns.value : null);
  const { waiting } = overview.progress;
  return (
    <>
      <OpenConflicts delivery={overview.id} conflicts={overview.conflicts} />
      <ul class="rows">
        {tasks.map(({ says, which, href }) => (
          <li key={says}>
            <a class="row" href={href}>
              <strong>{says}</strong>
              <span class="quiet">{which}</span>
            </a>
          </li>
        ))}
      </ul>
      {waiting > 0 && (
        <p>
          <Icon name="clock" /> {waiting} {waiting === 1 ? "photo waits" : "photos wait"} to be measured.
        </p>
      )}
      {returns.kind === "ready" && tasks.length + waiting + overview.conflicts.length === 0 && (
        <p>
          <Icon name="good" /> Nothing: every leaf is unwrapped, measured, decided and in a record.
        </p>
      )}
    </>
  );
};
