import { useId, useRef, useState } from "preact/hooks";

/** A text to hand on, with a button that copies it. Where the browser does not let a page copy, it stands selected. */
export const TextToCopy = (props: { label: string; text: string; rows: number }) => {
  const id = useId();
  const field = useRef<HTMLTextAreaElement>(null);
  const [says, say] = useState("");
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(props.text);
      say("Copied.");
    } catch {
      field.current?.select();
      say("This browser does not copy by itself. The text is selected: copy it by hand.");
    }
  };
  return (
    <div class="field text-to-copy">
      <label for={id}>{props.label}</label>
      <textarea id={id} ref={field} readOnly rows={props.rows} value={props.text} />
      <div class="buttons">
        <button type="button" onClick={() => void copy()}>
          Copy {props.label.charAt(0).toLowerCase() + props.label.slice(1)}
        </button>
      </div>
      <p role="status">{says}</p>
    </div>
  );
};
