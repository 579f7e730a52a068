import { useState } from "preact/hooks";
import type { MatchView } from "../../server/contract/views.ts";
import { address } from "../api.ts";
import { useChange } from "../change.ts";
import { useDesk } from "../desk.ts";
import { FileLink } from "../file-link.tsx";
import { Icon } from "../icon.tsx";
import { planningWords } from "./figure-words.ts";

/** Plans, tells how far that is, and ends it with the best so far; the rest of the screen can be used meanwhile. */
export const Planning = (props: { delivery: string; view: MatchView }) => {
  const { delivery, view } = props;
  const desk = useDesk();
  const { change } = useChange();
  const [asked, ask] = useState(false);
  const far = desk.planning.value ?? view.planning;
  const planning = asked || far !== null;
  const plan = async () => {
    ask(true);
    await change("planAllotment", { delivery }, {}, "Planned.");
    ask(false);
  };
  return (
    <>
      <div class="buttons">
        <button type="button" class="main" disabled={planning} onClick={() => void plan()}>
          <Icon name="again" /> {view.figures ? "Plan again" : "Plan"}
        </button>
        {planning && (
          <button
            type="button"
            onClick={() => void change("stopPlanning", { delivery }, {}, "Planning ends with the best so far.")}
          >
            <Icon name="good" /> Keep the best so far
          </button>
        )}
        {view.figures && <FileLink href={address("allotmentSheet", { delivery })}>Sheet to print</FileLink>}
      </div>
      <p role="status">{planning && (far ? `Planning. ${planningWords(far)}` : "Planning …")}</p>
    </>
  );
};
