import { useDesk } from "./desk.ts";
import { Icon } from "./icon.tsx";

/** Says what was just done or refused, aloud too, and takes it back on a tap while it is shown. */
export const NoticeBar = () => {
  const { notice } = useDesk();
  const now = notice.value;
  return (
    <div class="notice-place" role="status" aria-live="polite">
      {now && (
        <div class={`notice ${now.tone}`}>
          <p>
            <Icon name={now.tone === "done" ? "good" : "warning"} /> {now.says}
          </p>
          {now.faults.length > 0 && (
            <ul>
              {now.faults.map(({ at, says }) => (
                <li key={`${at} ${says}`}>
                  {at}: {says}
                </li>
              ))}
            </ul>
          )}
          <div class="buttons">
            {now.takeBack && (
              <button
                type="button"
                onClick={() => {
                  notice.value = null;
                  now.takeBack?.();
                }}
              >
                <Icon name="undo" /> Undo
              </button>
            )}
            <button
              type="button"
              onClick={() => {
                notice.value = null;
              }}
            >
              Close
            </button>
          </div>
        </div>
      )}
    </div>
  );
};
