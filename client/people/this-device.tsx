import { askWho, useDesk } from "../desk.ts";
import { Icon } from "../icon.tsx";
import { useMay } from "../may.tsx";
import { signOut } from "../standing.ts";

const stillIn =
  "The laptop cannot be reached: this device is still let in. Try again, or ask the foreman to shut it out.";

/** Who enters on this device; opened, how to change that, to let others in, or to leave. */
export const ThisDevice = () => {
  const desk = useDesk();
  const may = useMay();
  const session = desk.state.value?.session;
  if (!session) return null;
  const leave = async () => {
    if (!(await signOut(desk))) desk.notice.value = { tone: "refused", says: stillIn, faults: [], takeBack: null };
  };
  return (
    <details class="this-device">
      <summary>
        <Icon name="person" />
        <span>{desk.who.value?.name ?? "No name yet"}</span>
      </summary>
      <div class="device-list">
        <p>
          {session.role === "foreman" ? "Foreman" : "Site hand"} on {session.device}.
        </p>
        <div class="buttons">
          <button type="button" onClick={() => void askWho(desk, true)}>
            Somebody else takes this device
          </button>
          {may("devices") && (
            <a
              class="button"
              href="/people"
              onClick={(event) => event.currentTarget.closest("details")?.removeAttribute("open")}
            >
              People and devices
            </a>
          )}
          <button type="button" onClick={() => void leave()}>
            Sign out here
          </button>
        </div>
      </div>
    </details>
  );
};
