import { useEffect, useRef } from "preact/hooks";
import { useDesk } from "../desk.ts";
import { TwoEntries } from "./two-entries.tsx";

/** Opens when an entry was set aside since another was first: shows both and asks which counts. It may wait. */
export const ConflictDialog = () => {
  const { conflict } = useDesk();
  const dialog = useRef<HTMLDialogElement>(null);
  const open = conflict.value;
  const close = () => {
    conflict.value = null;
  };
  useEffect(() => {
    if (open) dialog.current?.showModal();
    else dialog.current?.close();
  }, [open]);
  return (
    <dialog ref={dialog} class="conflict" aria-labelledby="conflict-title" onCancel={close}>
      {open && (
        <>
          <h2 id="conflict-title">Two entries for {open.shown.what}</h2>
          <p>{open.shown.theirs.by} changed it while you had the page open. Both entries are kept; which one counts?</p>
          <TwoEntries delivery={open.delivery} conflict={open.shown} onSettled={close} />
          <button type="button" onClick={close}>
            Decide later
          </button>
          <p class="quiet">Until then it waits under “Left to do” on the delivery.</p>
        </>
      )}
    </dialog>
  );
};
