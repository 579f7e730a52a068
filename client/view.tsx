import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { Reply } from "../server/contract/calls.ts";
import type { CallName } from "../server/contract/paths.ts";
import { address, call, type Outcome, type Params } from "./api.ts";
import { useDesk } from "./desk.ts";
import { Icon } from "./icon.tsx";

/** Data of a screen. `stale`: the laptop cannot be reached and this is what it said last. */
export type View<T> =
  | { readonly kind: "loading" }
  | { readonly kind: "failed"; readonly says: string }
  | { readonly kind: "ready"; readonly value: T; readonly stale: boolean };

type Reading = {
  [Name in CallName]: Reply<Name> extends Response
    ? never
    : typeof import("../server/contract/paths.ts").paths[Name][0] extends "GET"
      ? Name
      : never;
}[CallName];

const next = <T,>(before: View<T>, outcome: Outcome<T>): View<T> => {
  if (outcome.kind === "ok") return { kind: "ready", value: outcome.value, stale: false };
  if (outcome.kind === "unreachable" && before.kind === "ready") return { ...before, stale: true };
  if (outcome.kind === "unreachable")
    return { kind: "failed", says: "The laptop cannot be reached. Photos you take are kept here." };
  return { kind: "failed", says: outcome.problem.detail };
};

/** Reads a view of the server, and reads it again whenever something changed. */
export const useView = <Name extends Reading>(name: Name, params: Params<Name>): View<Reply<Name>> => {
  const { freshness } = useDesk();
  const path = address(name, params);
  const [held, hold] = useState<{ path: string; view: View<Reply<Name>> }>({ path, view: { kind: "loading" } });
  const fresh = freshness.value;
  useEffect(() => {
    let wanted = true;
    const read = call as (name: Name, params: Params<Name>) => Promise<Outcome<Reply<Name>>>;
    void read(name, params).then((outcome) => {
      if (!wanted) return;
      hold((before) => ({ path, view: next(before.path === path ? before.view : { kind: "loading" }, outcome) }));
    });
    return () => {
      wanted = false;
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
      {view.stale && (
        <p class="plate warn">
          <Icon name="warning" /> The laptop cannot be reached: this is what it said last.
        </p>
      )}
      {props.children(view.value)}
    </>
  );
};
