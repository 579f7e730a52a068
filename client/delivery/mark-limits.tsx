import type { MarkKind } from "../../server/contract/terms.ts";
import { NumberField, Pick } from "../fields.tsx";
import { markWords } from "../words.ts";
import type { MarkLimitDraft, TermsDraft } from "./terms-draft.ts";

const kinds = Object.entries(markWords) as [MarkKind, string][];
const limits = [
  ["longestMm", "Longest", "mm"],
  ["deepestMm", "Deepest", "mm"],
  ["contrastDE00", "Contrast", "ΔE00"],
] as const;

/** Agreed limits of marks, a row a kind; an empty field sets none. */
export const MarkLimits = (props: { draft: TermsDraft; onChange: (draft: TermsDraft) => void }) => {
  const { draft, onChange } = props;
  const put = (index: number, change: Partial<MarkLimitDraft>) =>
    onChange({ ...draft, marks: draft.marks.map((one, at) => (at === index ? { ...one, ...change } : one)) });
  return (
    <fieldset>
      <legend>Limits of marks</legend>
      {draft.marks.map((limit, index) => (
        <div class="fields term-row" key={index}>
          <Pick label="Kind" of={kinds} value={limit.kind} onChoose={(kind) => put(index, { kind })} />
          {limits.map(([key, says, unit]) => (
            <NumberField
              key={key}
              label={says}
              unit={unit}
              text={limit[key]}
              onInput={(text) => put(index, { [key]: text })}
            />
          ))}
          <button
            type="button"
            onClick={() => onChange({ ...draft, marks: draft.marks.filter((_, at) => at !== index) })}
          >
            Take this limit out
          </button>
        </div>
      ))}
      <button
        type="button"
        onClick={() =>
          onChange({
            ...draft,
            marks: [...draft.marks, { kind: "dent", longestMm: "", deepestMm: "", contrastDE00: "" }],
          })
        }
      >
        Add a limit
      </button>
    </fieldset>
  );
};
