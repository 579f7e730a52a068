import { useState } from "preact/hooks";
import type { LeafView } from "../../server/contract/views.ts";
import { useChange } from "../change.ts";
import { Choice, NumberField, TextField } from "../fields.tsx";
import { nowWithOffset, shortTime } from "../times.ts";
import { typedNumber } from "../words.ts";

const kinds = [
  ["bow", "Bow, lengthways"],
  ["cup", "Cup, across"],
  ["twist", "Twist, fourth corner"],
] as const;

/** Readings of bow, cup and twist over time. */
export const Shape = (props: { delivery: string; view: LeafView; timeZone: string }) => {
  const { delivery, view } = props;
  const { undoable } = useChange();
  const [kind, choose] = useState<(typeof kinds)[number][0]>("bow");
  const [mm, setMm] = useState("");
  const [how, setHow] = useState("string line, leaf free and upright");
  const value = typedNumber(mm);
  const log = async () => {
    if (value === null || Number.isNaN(value)) return;
    const done = await undoable(
      delivery,
      "logShape",
      { delivery, leaf: view.leaf.code },
      { reading: { at: nowWithOffset(new Date()), kind, mm: value, how } },
      `${kind} of ${value} mm logged.`,
    );
    if (done) setMm("");
  };
  return (
    <section aria-labelledby="shape">
      <h2 id="shape">Shape</h2>
      {view.leaf.shape.length === 0 ? (
        <p>No reading of bow, cup or twist yet.</p>
      ) : (
        <ul>
          {view.leaf.shape.map((reading) => (
            <li key={reading.id}>
              {reading.kind} <strong>{reading.mm} mm</strong>, {shortTime(reading.at, props.timeZone)}, {reading.how}
            </li>
          ))}
        </ul>
      )}
      <details>
        <summary>Log a shape reading</summary>
        <form
          onSubmit={(event) => {
            event.preventDefault();
            void log();
          }}
        >
          <Choice label="What was measured" of={kinds} value={kind} onChoose={choose} />
          <div class="fields">
            <NumberField label="Reading" unit="mm" text={mm} onInput={setMm} required />
            <TextField label="How" value={how} onInput={setHow} />
          </div>
          <button type="submit" class="main">
            Log this reading
          </button>
        </form>
      </details>
    </section>
  );
};
