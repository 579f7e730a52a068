import { useState } from "preact/hooks";
import type { Pattern } from "../../server/contract/leaf.ts";
import { NumberField } from "../fields.tsx";
import { typedNumber } from "../words.ts";
import { type JointDraft, mouldingIn } from "./joint-draft.ts";
import { lineWords } from "./line-words.ts";

/** A length as typed; what was typed stands until the length is moved by other means. */
const LengthField = (props: { label: string; unit: string; mm: number; onPlace: (mm: number) => void }) => {
  const { mm } = props;
  const [typed, type] = useState<{ readonly text: string; readonly mm: number } | null>(null);
  return (
    <NumberField
      label={props.label}
      unit={props.unit}
      text={typed?.mm === mm ? typed.text : String(Math.round(mm * 10) / 10)}
      onInput={(text) => {
        const value = typedNumber(text);
        const meant = value === null || Number.isNaN(value) ? mm : value;
        type({ text, mm: meant });
        if (meant !== mm) props.onPlace(meant);
      }}
    />
  );
};

/** Every line as a length to type, for a joiner with a tape. */
export const JointNumbers = (props: {
  draft: JointDraft;
  pattern: Pattern;
  onPlace: (line: number, atMm: number, gesture: string) => void;
  onMoulding: (mm: number) => void;
}) => {
  const { draft, pattern } = props;
  const moulding = mouldingIn(draft);
  return (
    <details>
      <summary>In numbers</summary>
      <div class="fields">
        {draft.lines.map((line, index) => (
          <LengthField
            key={`${line.axis} ${line.atMm}`}
            label={lineWords(pattern, line)}
            unit={line.axis === "x" ? "mm from the left" : "mm from the top"}
            mm={draft.places.linesMm[index] ?? line.atMm}
            onPlace={(mm) => props.onPlace(index, mm, `typed ${index}`)}
          />
        ))}
        {moulding !== null && (
          <LengthField label="Moulding round the panels" unit="mm" mm={moulding} onPlace={props.onMoulding} />
        )}
      </div>
    </details>
  );
};
