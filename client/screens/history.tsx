import { useState } from "preact/hooks";
import type { HistoryLine } from "../../server/contract/views.ts";
import { useChange } from "../change.ts";
import { Pick } from "../fields.tsx";
import { Icon } from "../icon.tsx";
import { sorted } from "../record/history-filter.ts";
import { dateAndTime } from "../times.ts";
import { Shown, useView } from "../view.tsx";

const zone = Intl.DateTimeFormat().resolvedOptions().timeZone;

const Lines = (props: { delivery: string; lines: readonly HistoryLine[] }) => {
  const { delivery } = props;
  const { change } = useChange();
  const [leaf, chooseLeaf] = useState("");
  const [person, choosePerson] = useState("");
  const { leaves, people, shown, last } = sorted(props.lines, { leaf, person });
  const takeBack = ({ seq }: HistoryLine) => void change("undo", { delivery }, { seq }, "Taken back.");
  return (
    <>
      {last && (
        <div class="buttons">
          <button type="button" class="main" onClick={() => takeBack(last)}>
            <Icon name="undo" /> Take back the last: {last.what}
          </button>
        </div>
      )}
      <div class="fields">
        <Pick
          label="About"
          of={[["", "everything"], ...leaves.map((code) => [code, `leaf ${code}`] as const)]}
          value={leaf}
          onChoose={chooseLeaf}
        />
        <Pick
          label="Entered by"
          of={[["", "anybody"], ...people.map((name) => [name, name] as const)]}
          value={person}
          onChoose={choosePerson}
        />
      </div>
      <p role="status">
        {shown.length === props.lines.length ? "" : `${shown.length} of ${props.lines.length} entries.`}
      </p>
      <ol class="rows history">
        {shown.map((line) => (
          <li key={line.seq} class="row">
            <strong>
              {line.seq}. {line.what}
            </strong>
            <span class="quiet">
              {line.actor} on {line.device}, {dateAndTime(line.at, zone)}
            </span>
            {line.undoable && (
              <button type="button" onClick={() => takeBack(line)}>
                <Icon name="undo" /> Take back
              </button>
            )}
          </li>
        ))}
      </ol>
    </>
  );
};

/** Everything that was entered, newest first, each by whom and when; what can be taken back has a button. */
export const History = (props: { delivery: string }) => {
  const { delivery } = props;
  const view = useView("history", { delivery });
  return (
    <>
      <h1>History</h1>
      <p class="quiet">Nothing is ever rubbed out: taking an entry back is a new entry.</p>
      <Shown view={view}>{(lines) => <Lines delivery={delivery} lines={lines} />}</Shown>
    </>
  );
};
