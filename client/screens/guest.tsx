import { render } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { Reply } from "../../server/contract/calls.ts";
import { call } from "../api.ts";
import { Icon } from "../icon.tsx";
import { GuestRecord } from "../record/guest-record.tsx";

const lost = "The computer on the site cannot be reached now. Try again later.";

type Seen = { readonly delivery: string; readonly until: string; readonly record: Reply<"record"> };

/** Opens the record of a link. A browser that is let in already stays as it is: a guest's session would end that one. */
const openRecord = async (secret: string): Promise<Seen | { readonly says: string }> => {
  const state = await call("state", {});
  if (state.kind === "ok" && state.value.session.role !== "guest")
    return {
      says: "This browser works on the site's ledger already. Open the link in a private window or on another device.",
    };
  const opened = await call("openLink", {}, { secret });
  if (opened.kind === "unreachable") return { says: lost };
  const session = opened.kind === "ok" ? opened.value : null;
  if (!session?.delivery || session.record === null)
    return { says: "This link does not open any more. Ask who sent it for a new one." };
  const record = await call("record", { delivery: session.delivery, number: session.record });
  if (record.kind === "unreachable") return { says: lost };
  return record.kind === "ok"
    ? { delivery: session.delivery, until: session.until, record: record.value }
    : { says: record.problem.detail };
};

/** What a guest sees: the one record behind a link, or why it does not open. */
const Guest = (props: { secret: string }) => {
  const [seen, see] = useState<Awaited<ReturnType<typeof openRecord>> | null>(null);
  useEffect(() => void openRecord(props.secret).then(see), [props.secret]);
  return (
    <main class="guest">
      {seen === null && (
        <p class="quiet" aria-busy="true">
          Opening the record …
        </p>
      )}
      {seen && "says" in seen && (
        <>
          <h1>No record to show</h1>
          <p class="plate warn">
            <Icon name="warning" /> {seen.says}
          </p>
        </>
      )}
      {seen && "record" in seen && <GuestRecord delivery={seen.delivery} until={seen.until} record={seen.record} />}
    </main>
  );
};

/** Shows the guest's page by itself: nothing of the ledger's screens, no session begun, no photo kept on the device is touched. */
export const showGuest = (place: HTMLElement): void => {
  const draw = () => render(<Guest secret={location.hash.slice(1)} />, place);
  addEventListener("hashchange", draw);
  draw();
};
