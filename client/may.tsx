import type { ComponentChildren } from "preact";
import type { CallName } from "../server/contract/paths.ts";
import { mayMake } from "../server/contract/roles.ts";
import { useDesk } from "./desk.ts";

/** Whether whoever is in may make a call. The laptop decides; this only spares buttons that would be refused. */
export const useMay = (): ((name: CallName) => boolean) => {
  const { state } = useDesk();
  const session = state.value?.session;
  return (name) => session === undefined || mayMake(session, name);
};

/** Shows what whoever is in may do; to others it says in one sentence who does it, or nothing. */
export const Only = (props: { may: CallName; otherwise?: string; children: ComponentChildren }) => {
  const may = useMay();
  if (may(props.may)) return <>{props.children}</>;
  if (!props.otherwise) return null;
  return <p class="quiet">{props.otherwise}</p>;
};
