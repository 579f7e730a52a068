import type { ConflictView } from "../../server/contract/conflict.ts";
import { Icon } from "../icon.tsx";
import { TwoEntries } from "./two-entries.tsx";

/** Entries of which one was set aside and nobody has chosen yet. */
export const OpenConflicts = (props: { delivery: string; conflicts: readonly ConflictView[] }) => (
  <>
    {props.conflicts.map((conflict) => (
      <div key={conflict.id} class="plate warn">
        <p>
          <Icon name="warning" /> Two entries for <strong>{conflict.what}</strong>: which one counts?
        </p>
        <TwoEntries delivery={props.delivery} conflict={conflict} />
      </div>
    ))}
  </>
);
