import { useId, useState } from "preact/hooks";
import { useChange } from "../change.ts";
import { Choice, TextField } from "../fields.tsx";

const lights = [
  ["as-written", "as the text says"],
  ["D50", "D50"],
  ["D65", "D65"],
] as const;

/** Values of a chart of one's own: the file that came with it, or its table pasted. */
export const ChartForm = (props: { delivery: string }) => {
  const { delivery } = props;
  const { undoable } = useChange();
  const [name, setName] = useState("");
  const [edition, setEdition] = useState("");
  const [white, setWhite] = useState<(typeof lights)[number][0]>("as-written");
  const [text, setText] = useState("");
  const id = useId();
  const keep = () => {
    const content = { name: name.trim(), edition: edition.trim(), white: white === "as-written" ? null : white, text };
    void undoable(delivery, "addChart", { delivery }, content, "Values taken in. Photos are measured by them now.");
  };
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        keep();
      }}
    >
      <div class="fields">
        <TextField label="Name" value={name} onInput={setName} required hint="as “chart of the site office”" />
        <TextField label="Edition" value={edition} onInput={setEdition} hint="year, number, or date it was measured" />
      </div>
      <Choice label="The values are stated in" of={lights} value={white} onChoose={setWhite} />
      <div class="field">
        <label for={`${id}-file`}>File with the values</label>
        <input
          id={`${id}-file`}
          type="file"
          accept=".txt,.cie,.cgats,.it8,.ti3,.csv,text/plain,text/csv"
          onChange={(event) => {
            const [file] = event.currentTarget.files ?? [];
            if (file) void file.text().then(setText);
          }}
        />
      </div>
      <div class="field">
        <label for={`${id}-text`}>Or paste them</label>
        <textarea
          id={`${id}-text`}
          rows={6}
          required
          spellcheck={false}
          value={text}
          aria-describedby={`${id}-hint`}
          onInput={(event) => setText(event.currentTarget.value)}
        />
        <small id={`${id}-hint`} class="quiet">
          CGATS.17 text, or a table with the columns patch, L, a, b. The order of the patches does not matter.
        </small>
      </div>
      <button type="submit" class="main">
        Take these values in
      </button>
    </form>
  );
};
