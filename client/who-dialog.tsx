import { useEffect, useRef, useState } from "preact/hooks";
import { useDesk } from "./desk.ts";
import { TextField } from "./fields.tsx";

/** Asks once on a device who enters: the name stands beside every entry and in the records. */
export const WhoDialog = () => {
  const { asking } = useDesk();
  const dialog = useRef<HTMLDialogElement>(null);
  const [name, setName] = useState("");
  const answer = asking.value;
  useEffect(() => {
    if (answer) dialog.current?.showModal();
    else dialog.current?.close();
  }, [answer]);
  return (
    <dialog ref={dialog} aria-labelledby="who-title" onCancel={() => answer?.(null)}>
      <form
        method="dialog"
        onSubmit={(event) => {
          event.preventDefault();
          if (name.trim()) answer?.(name.trim());
        }}
      >
        <h2 id="who-title">Who enters this?</h2>
        <p>Your name stands beside every entry and in the records.</p>
        <TextField label="Your name" value={name} onInput={setName} required />
        <div class="buttons">
          <button type="submit" class="main">
            That is me
          </button>
          <button type="button" onClick={() => answer?.(null)}>
            Not now
          </button>
        </div>
      </form>
    </dialog>
  );
};
