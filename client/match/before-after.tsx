import type { MatchView } from "../../server/contract/views.ts";
import { useChange } from "../change.ts";
import { Icon } from "../icon.tsx";
import { figure } from "../words.ts";
import { planChanges } from "./plan-changes.ts";

/** This plan beside the one before it, what moved between them, and the way back. */
export const BeforeAfter = (props: { delivery: string; view: MatchView }) => {
  const { delivery, view } = props;
  const { change } = useChange();
  const { before } = view;
  if (before === null) return null;
  const moves = planChanges(before.places, view);
  const rows = [
    { says: "Before", figures: before.figures },
    { says: "Now", figures: view.figures },
  ];
  const swap = (says: string, takeBack?: () => void) => void change("takePlanBack", { delivery }, {}, says, takeBack);
  return (
    <section class="plate" aria-labelledby="changes">
      <h2 id="changes">Planned again: before and now</h2>
      <table class="plain figures">
        <caption>The same figures of this plan and of the one before it</caption>
        <thead>
          <tr>
            <th scope="col">Plan</th>
            <th scope="col" class="figure">
              Worst pair
            </th>
            <th scope="col" class="figure">
              Mean
            </th>
            <th scope="col" class="figure">
              Spaces over {figure(view.tolerance, null)}
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ says, figures }) => (
            <tr key={says}>
              <th scope="row">{says}</th>
              <td class="figure">{figures ? figure(figures.plan.worst, null) : "–"}</td>
              <td class="figure">{figures ? figure(figures.plan.mean, null) : "–"}</td>
              <td class="figure">{figures ? figures.plan.spacesOver : "–"}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {moves.length === 0 ? (
        <p>No leaf moved.</p>
      ) : (
        <ul class="moves" aria-label="Leaves that moved">
          {moves.map(({ leaf, from, to, turned }) => (
            <li key={leaf}>
              <strong>{leaf}</strong> {from === to ? `stays in ${to}` : `${from ?? "spare"} → ${to ?? "spare"}`}
              {turned && ", turned"}
            </li>
          ))}
        </ul>
      )}
      <button
        type="button"
        onClick={() => swap("The plan before stands again.", () => swap("The newer plan stands again."))}
      >
        <Icon name="undo" /> Back to the plan before
      </button>
    </section>
  );
};
