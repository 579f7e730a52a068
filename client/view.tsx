import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { Reply } from "../server/contract/calls.ts";
import type { CallName } from "../server/contract/paths.ts";
import { address, call, type Outcome, type Params } from "./api.ts";
import { useDesk } from "./desk.ts";
import { Icon } from "./icon.tsx";
import { standOut } from "./standing.ts";
import { lastRead } from "./times.ts";

/** Data of a screen. `lost`: the laptop cannot be reached, and this is what it said at `readAt` (ISO 8601). */
export type View<T> =
  | { readonly kind: "loading" }
  | { readonly kind: "failed"; readonly says: string }
  | { readonly kind: "ready"; readonly value: T; readonly readAt: string; readonly lost: boolean };

type Reading = {
  [Name in CallName]: Reply<Name> extends Response
    ? never
    : typeof import("../server/contract/paths.ts").paths[Name][0] extends "GET"
      ? Name
      : never;
}[CallName];

/** Views that are kept on the device, so that counting, unwrapping and photographing go on where there is no signal. */
const keptOnDevice: ReadonlySet<CallName> = new Set<CallName>(["listDeliveries", "overview", "returns", "leaf"]);

/** How long a screen waits for a bad signal before it shows what was read last. */
const patienceMs = 3000;

const cannotBeReached = "The laptop cannot be reached. Photos you take are kept here.";

/** Reads a view of the server, and reads it again whenever something changed. With no signal it shows what was read last. */
export const useView = <Name extends Reading>(name: Name, params: Params<Name>): View<Reply<Name>> => {
  type Seen = View<Reply<Name>>;
  const desk = useDesk();
  const path = address(name, params);
  const [held, hold] = useState<{ path: string; view: Seen }>({ path, view: { kind: "loading" } });
  const fresh = desk.freshness.value;
  useEffect(() => {
    let wanted = true;
    const show = (next: (before: Seen) => Seen) => {
      if (wanted) hold((before) => ({ path, view: next(before.path === path ? before.view : { kind: "loading" }) }));
    };
    const showLast = async (unless: Seen) => {
      const kept = keptOnDevice.has(name) ? await desk.kept.find(path) : null;
      const last: Seen = kept
        ? { kind: "ready", value: kept.value as Reply<Name>, readAt: kept.at, lost: true }
        : unless;
      show((before) => (before.kind === "ready" ? { ...before, lost: true } : last));
    };
    const patience = setTimeout(() => void showLast({ kind: "loading" }), patienceMs);
    const read = call as (name: Name, params: Params<Name>) => Promise<Outcome<Reply<Name>>>;
    void read(name, params).then((outcome) => {
      clearTimeout(patience);
      if (outcome.kind === "unreachable") return showLast({ kind: "failed", says: cannotBeReached });
      if (outcome.kind === "refused" && outcome.problem.status === 401) return standOut(desk);
      if (outcome.kind === "refused") return show(() => ({ kind: "failed", says: outcome.problem.detail }));
      const { value } = outcome;
      show(() => ({ kind: "ready", value, readAt: new Date().toISOString(), lost: false }));
      if (keptOnDevice.has(name)) void desk.kept.keep(path, value);
    });
    return () => {
      wanted = false;
      clearTimeout(patience);
    };
  }, [path, fresh]);
  return held.path === path ? held.view : { kind: "loading" };
};

/** Shows a view once it is there; before that, what is missing. */
export const Shown = <T,>(props: { view: View<T>; children: (value: T) => ComponentChildren }) => {
  const { view } = props;
  if (view.kind === "loading")
    return (
      <p class="quiet" aria-busy="true">
        Reading from the laptop …
      </p>
    );
  if (view.kind === "failed")
    return (
      <p class="plate warn">
        <Icon name="warning" /> {view.says}
      </p>
    );
  return (
    <>
      {view.lost && (
        <p class="plate warn">
          <Icon name="warning" /> As last read {lastRead(view.readAt, new Date())}, no signal. Photos you take are kept
          here.
        </p>
      )}
      {props.children(view.value)}
    </>
  );
};
