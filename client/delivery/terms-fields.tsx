import type { WindowTerm } from "../../server/contract/terms.ts";
import { MomentField, NumberField, Pick, TextField } from "../fields.tsx";
import { windowWords } from "../words.ts";
import { MarkLimits } from "./mark-limits.tsx";
import { type TermFigure, type TermsDraft, termFigures } from "./terms-draft.ts";

const kinds = Object.entries(windowWords) as [WindowTerm["kind"], string][];
const units = [
  ["hours", "hours"],
  ["calendar-days", "calendar days"],
  ["working-days", "working days"],
] as const;
const starts = [
  ["delivery", "delivery"],
  ["unwrapping", "unwrapping"],
] as const;
const receivers = [
  ["supplier", "supplier"],
  ["haulier", "haulier"],
] as const;

const Windows = (props: { draft: TermsDraft; onChange: (draft: TermsDraft) => void }) => {
  const { draft, onChange } = props;
  const put = (index: number, change: Partial<TermsDraft["windows"][number]>) =>
    onChange({ ...draft, windows: draft.windows.map((one, at) => (at === index ? { ...one, ...change } : one)) });
  return (
    <fieldset>
      <legend>Claim windows</legend>
      {draft.windows.map((window, index) => (
        <div class="fields term-row" key={index}>
          <Pick label="About" of={kinds} value={window.kind} onChoose={(kind) => put(index, { kind })} />
          <Pick label="To the" of={receivers} value={window.to} onChoose={(to) => put(index, { to })} />
          <NumberField
            label="Within"
            unit=""
            text={window.amount}
            onInput={(amount) => put(index, { amount })}
            required
          />
          <Pick label="Counted in" of={units} value={window.unit} onChoose={(unit) => put(index, { unit })} />
          <Pick label="From" of={starts} value={window.from} onChoose={(from) => put(index, { from })} />
          <button
            type="button"
            onClick={() => onChange({ ...draft, windows: draft.windows.filter((_, at) => at !== index) })}
          >
            Take this window out
          </button>
        </div>
      ))}
      <button
        type="button"
        onClick={() =>
          onChange({
            ...draft,
            windows: [
              ...draft.windows,
              { kind: "damage", to: "supplier", amount: "", unit: "hours", from: "delivery" },
            ],
          })
        }
      >
        Add a window
      </button>
    </fieldset>
  );
};

/** The supplier's terms as a form: every figure is agreed, none is assumed. */
export const TermsFields = (props: { draft: TermsDraft; onChange: (draft: TermsDraft) => void }) => {
  const { draft, onChange } = props;
  return (
    <>
      <Windows draft={draft} onChange={onChange} />
      <fieldset>
        <legend>How working days are counted</legend>
        <div class="fields">
          <TextField
            label="Public holidays of"
            value={draft.holidays}
            onInput={(holidays) => onChange({ ...draft, holidays })}
            hint="country and region, as GB-ENG"
          />
          <TextField
            label="Further closed days"
            value={draft.closedDays}
            onInput={(closedDays) => onChange({ ...draft, closedDays })}
            hint="as 2026-04-07, 2026-04-08"
          />
          <MomentField
            label="A day ends at"
            type="time"
            value={draft.dayEndsAt}
            onInput={(dayEndsAt) => onChange({ ...draft, dayEndsAt })}
          />
        </div>
      </fieldset>
      <MarkLimits draft={draft} onChange={onChange} />
      <fieldset>
        <legend>Agreed figures</legend>
        <div class="fields">
          {(Object.keys(termFigures) as TermFigure[]).map((key) => (
            <NumberField
              key={key}
              label={termFigures[key][0]}
              unit={termFigures[key][1]}
              text={draft.figures[key]}
              onInput={(text) => onChange({ ...draft, figures: { ...draft.figures, [key]: text } })}
              required
            />
          ))}
          <TextField
            label="Light in which marks are judged"
            value={draft.light}
            onInput={(light) => onChange({ ...draft, light })}
          />
          <TextField
            label="Rule before the wrapping is opened"
            value={draft.beforeUnwrapping}
            onInput={(beforeUnwrapping) => onChange({ ...draft, beforeUnwrapping })}
          />
        </div>
      </fieldset>
    </>
  );
};
