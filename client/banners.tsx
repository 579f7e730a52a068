import { useDesk } from "./desk.ts";
import { Icon } from "./icon.tsx";

/** What a person must know whatever the screen shows. */
export const Banners = () => {
  const { newVersion } = useDesk();
  const load = newVersion.value;
  return (
    <div class="banners" role="status">
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
