import type { ConflictView } from "../../server/contract/conflict.ts";
import { useChange } from "../change.ts";
import { dateAndTime } from "../times.ts";

const zone = Intl.DateTimeFormat().resolvedOptions().timeZone;

const Entry = (props: { title: string; entry: ConflictView["theirs"] }) => {
  const { says, by, device, at } = props.entry;
  return (
    <div class="entry">
      <h3>{props.title}</h3>
      <p>
        <strong>{says}</strong>
      </p>
      <p class="quiet">
        {by} on {device}, {dateAndTime(at, zone)}
      </p>
    </div>
  );
};

/** Both entries of a conflict side by side, each by whom, when and on which device, and the choice between them. */
export const TwoEntries = (props: { delivery: string; conflict: ConflictView; onSettled?: () => void }) => {
  const { delivery, conflict, onSettled } = props;
  const { change } = useChange();
  const settle = async (take: "theirs" | "yours", says: string) => {
    const settled = await change("settleConflict", { delivery, conflict: conflict.id }, { take }, says);
    if (settled) onSettled?.();
  };
  return (
    <>
      <div class="two-entries">
        <Entry title="Stands now" entry={conflict.theirs} />
        <Entry title="Set aside" entry={conflict.yours} />
      </div>
      <div class="buttons">
        <button
          type="button"
          onClick={() => void settle("theirs", `${conflict.theirs.by}'s entry stays for ${conflict.what}.`)}
        >
          Keep {conflict.theirs.by}'s
        </button>
        <button
          type="button"
          onClick={() => void settle("yours", `${conflict.yours.by}'s entry now stands for ${conflict.what}.`)}
        >
          Put {conflict.yours.by}'s instead
        </button>
      </div>
    </>
  );
};
