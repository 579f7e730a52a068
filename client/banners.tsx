import { useDesk } from "./desk.ts";
import { Icon } from "./icon.tsx";

/** What a person must know whatever the screen shows: how the ledger stands, and that there is a newer page. */
export const Banners = () => {
  const { newVersion, state } = useDesk();
  const load = newVersion.value;
  const { insecure, readOnly, disk, clock } = state.value ?? {};
  const warnings = [readOnly, disk, clock, insecure].filter((says) => typeof says === "string");
  return (
    <div class="banners" role="status">
      {warnings.map((says) => (
        <p key={says} class="banner warn">
          <Icon name="warning" /> {says}
        </p>
      ))}
      {load && (
        <p class="banner">
          <Icon name="again" /> There is a new version of Leafledger on the laptop.{" "}
          <button type="button" onClick={load}>
            New version: load it
          </button>
        </p>
      )}
    </div>
  );
};
