import { useChange } from "../change.ts";
import { Icon } from "../icon.tsx";
import { dateAndTime } from "../times.ts";
import { Shown, useView } from "../view.tsx";

/** Everything that was entered, newest first, each by whom and when; what can be taken back has a button. */
export const History = (props: { delivery: string }) => {
  const { delivery } = props;
  const view = useView("history", { delivery });
  const { change } = useChange();
  return (
    <>
      <h1>History</h1>
      <p class="quiet">Nothing is ever rubbed out: taking an entry back is a new entry.</p>
      <Shown view={view}>
        {(lines) => (
          <ol class="rows history">
            {lines
              .toSorted((a, b) => b.seq - a.seq)
              .map(({ seq, at, actor, device, what, undoable }) => (
                <li key={seq} class="row">
                  <strong>
                    {seq}. {what}
                  </strong>
                  <span class="quiet">
                    {actor} on {device}, {dateAndTime(at, Intl.DateTimeFormat().resolvedOptions().timeZone)}
                  </span>
                  {undoable && (
                    <button type="button" onClick={() => void change("undo", { delivery }, { seq }, "Taken back.")}>
                      <Icon name="undo" /> Take back
                    </button>
                  )}
                </li>
              ))}
          </ol>
        )}
      </Shown>
    </>
  );
};
