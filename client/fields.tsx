import { useId } from "preact/hooks";
import { typedNumber } from "./words.ts";

/** A labelled text field. */
export const TextField = (props: {
  label: string;
  value: string;
  onInput: (value: string) => void;
  required?: boolean;
  hint?: string;
}) => {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>{props.label}</label>
      <input
        id={id}
        type="text"
        value={props.value}
        required={props.required ?? false}
        maxLength={200}
        {...(props.hint && { "aria-describedby": `${id}-hint` })}
        onInput={(event) => props.onInput(event.currentTarget.value)}
      />
      {props.hint && (
        <small id={`${id}-hint`} class="quiet">
          {props.hint}
        </small>
      )}
    </div>
  );
};

/** A time of day, or a date with its time, as the browser's own control gives it. */
export const MomentField = (props: {
  label: string;
  type: "datetime-local" | "time";
  value: string;
  onInput: (value: string) => void;
}) => {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>{props.label}</label>
      <input
        id={id}
        type={props.type}
        value={props.value}
        required
        onInput={(event) => props.onInput(event.currentTarget.value)}
      />
    </div>
  );
};

/** A number with its unit; takes a decimal comma. `text` is what stands in the field. */
export const NumberField = (props: {
  label: string;
  unit: string;
  text: string;
  onInput: (text: string) => void;
  required?: boolean;
}) => {
  const id = useId();
  const wrong = Number.isNaN(typedNumber(props.text));
  return (
    <div class="field">
      <label for={id}>
        {props.label}
        {props.unit && <span class="quiet"> {props.unit}</span>}
      </label>
      <input
        id={id}
        type="text"
        inputMode="decimal"
        autoComplete="off"
        value={props.text}
        required={props.required ?? false}
        aria-invalid={wrong}
        {...(wrong && { "aria-describedby": `${id}-fault` })}
        onInput={(event) => props.onInput(event.currentTarget.value)}
      />
      {wrong && (
        <small id={`${id}-fault`} class="warn">
          A number, please.
        </small>
      )}
    </div>
  );
};

/** One of a few, all in sight. */
export const Choice = <Value extends string>(props: {
  label: string;
  of: readonly (readonly [value: Value, says: string])[];
  value: Value | null;
  onChoose: (value: Value) => void;
}) => {
  const name = useId();
  return (
    <fieldset class="choice">
      <legend>{props.label}</legend>
      <div class="options">
        {props.of.map(([value, says]) => (
          <label key={value}>
            <input type="radio" name={name} checked={props.value === value} onChange={() => props.onChoose(value)} />
            <span>{says}</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
};

/** One of many. */
export const Pick = <Value extends string>(props: {
  label: string;
  of: readonly (readonly [value: Value, says: string])[];
  value: Value;
  onChoose: (value: Value) => void;
}) => {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>{props.label}</label>
      <select id={id} value={props.value} onChange={(event) => props.onChoose(event.currentTarget.value as Value)}>
        {props.of.map(([value, says]) => (
          <option key={value} value={value}>
            {says}
          </option>
        ))}
      </select>
    </div>
  );
};
