import { useDesk } from "./desk.ts";
import { Icon } from "./icon.tsx";

const facesOf = (shows: readonly { leaf: string; face: string }[]) =>
  shows.map(({ leaf, face }) => `${leaf} ${face}`).join(", ") || "no leaf named";

/** How many photos wait on this device; opened, which they are and what to do about a refused one. */
export const WaitingPhotos = () => {
  const { queue } = useDesk();
  const photos = queue.photos.value;
  const refused = photos.filter(({ state }) => state.kind === "refused").length;
  return (
    <details class="waiting">
      <summary>
        <Icon name={refused > 0 ? "warning" : "waiting"} />
        <span role="status">
          {photos.length} waiting{refused > 0 && `, ${refused} refused`}
        </span>
      </summary>
      <div class="waiting-list">
        {photos.length === 0 && <p>No photo waits on this device: all have arrived on the laptop.</p>}
        {photos.length > 0 && (
          <button type="button" onClick={() => void queue.sendWaiting()}>
            <Icon name="again" /> Send now
          </button>
        )}
        <ul>
          {photos.map(({ id, about, state }) => (
            <li key={id}>
              {facesOf(about.shows)}: {about.name}
              {state.kind === "kept" && " – kept here, waits for the signal"}
              {state.kind === "sending" && " – being sent"}
              {state.kind === "refused" && (
                <>
                  <p class="warn">Refused: {state.says}</p>
                  <div class="buttons">
                    <button type="button" onClick={() => void queue.retry(id)}>
                      Send again
                    </button>
                    <button type="button" onClick={() => void queue.drop(id)}>
                      Throw it away
                    </button>
                  </div>
                </>
              )}
            </li>
          ))}
        </ul>
      </div>
    </details>
  );
};
