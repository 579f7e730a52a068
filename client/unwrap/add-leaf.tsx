import { useState } from "preact/hooks";
import type { OrderLine } from "../../server/contract/delivery.ts";
import type { LeafSummary } from "../../server/contract/views.ts";
import { useChange } from "../change.ts";
import { Choice, Pick, TextField } from "../fields.tsx";
import { likelyIdentity } from "./leaf-list.ts";

/** A leaf by the code on its label: one as ordered, one too many, a wrong one, or a replacement that came later. */
export const AddLeaf = (props: { delivery: string; lines: readonly OrderLine[]; leaves: readonly LeafSummary[] }) => {
  const { undoable } = useChange();
  const [code, setCode] = useState("");
  const [line, setLine] = useState(props.lines[0]?.id ?? "");
  const [identity, choose] = useState<"as-ordered" | "wrong" | "over" | null>(null);
  const [replaces, setReplaces] = useState("");
  const chosen = props.lines.find(({ id }) => id === line);
  const shownIdentity = identity ?? (chosen ? likelyIdentity(props.leaves, chosen) : null);
  const add = async () => {
    if (!chosen || !shownIdentity) return;
    const leaf = {
      code: code.trim().toUpperCase(),
      line: chosen.id,
      pattern: chosen.pattern,
      identity: shownIdentity,
      replaces: replaces.trim().toUpperCase() || null,
    };
    const done = await undoable(
      props.delivery,
      "addLeaf",
      { delivery: props.delivery },
      { leaf },
      `${leaf.code} added.`,
    );
    if (!done) return;
    setCode("");
    choose(null);
  };
  return (
    <details>
      <summary>Add a leaf that is not in the list</summary>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void add();
        }}
      >
        <div class="fields">
          <TextField
            label="Code to write on it"
            value={code}
            onInput={setCode}
            required
            hint="capital letters and digits, as W09"
          />
          <Pick
            label="Made like line"
            of={props.lines.map(({ id, item }) => [id, `${id} ${item}`])}
            value={line}
            onChoose={setLine}
          />
          <TextField label="Replaces leaf" value={replaces} onInput={setReplaces} hint="only for a replacement" />
        </div>
        <Choice
          label="It is"
          of={[
            ["over", "one too many"],
            ["wrong", "a wrong item"],
            ["as-ordered", "as ordered"],
          ]}
          value={shownIdentity}
          onChoose={choose}
        />
        <button type="submit" class="main" disabled={!chosen}>
          Add this leaf
        </button>
      </form>
    </details>
  );
};
