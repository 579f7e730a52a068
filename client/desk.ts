import { type Signal, signal } from "@preact/signals";
import { createContext } from "preact";
import { useContext } from "preact/hooks";
import type { ConflictView } from "../server/contract/conflict.ts";
import type { Actor } from "../server/contract/ids.ts";
import type { MatchView, Progress } from "../server/contract/views.ts";
import { call } from "./api.ts";
import type { KeptViews } from "./kept-views.ts";
import type { UploadQueue } from "./upload-queue.ts";

/** What was just done or refused; `takeBack` undoes it while the notice is shown. */
interface Notice {
  readonly tone: "done" | "refused";
  readonly says: string;
  readonly faults: readonly { at: string; says: string }[];
  readonly takeBack: (() => void) | null;
}

/** What all screens share. One is made at the start and handed down. */
export interface Desk {
  readonly who: Signal<Actor | null>;
  /** Set while the page asks for a name; called with it, or with null when the person turns away. */
  readonly asking: Signal<((who: Actor | null) => void) | null>;
  /** Goes up whenever anything may have changed: screens read their data again. */
  readonly freshness: Signal<number>;
  readonly progress: Signal<Progress | null>;
  /** How far the allotment being planned is; null while none is. */
  readonly planning: Signal<MatchView["planning"]>;
  readonly notice: Signal<Notice | null>;
  /** The entry just set aside since another was first, with what stands there; null while none is to be chosen from. */
  readonly conflict: Signal<{ readonly delivery: string; readonly shown: ConflictView } | null>;
  readonly queue: UploadQueue;
  readonly kept: KeptViews;
  /** Loads the newer version of the page that has come; null while this is the newest. */
  readonly newVersion: Signal<(() => void) | null>;
}

export const openDesk = (queue: UploadQueue, who: Actor | null, kept: KeptViews): Desk => ({
  who: signal(who),
  asking: signal(null),
  freshness: signal(0),
  progress: signal(null),
  planning: signal(null),
  notice: signal(null),
  conflict: signal(null),
  queue,
  kept,
  newVersion: signal(null),
});

export const DeskContext = createContext<Desk | null>(null);

export const useDesk = (): Desk => {
  const desk = useContext(DeskContext);
  if (!desk) throw new Error("a screen stands outside the desk");
  return desk;
};

/** The name that goes beside every entry; asks for it once on a device. */
export const askWho = (desk: Desk): Promise<Actor | null> =>
  desk.who.value
    ? Promise.resolve(desk.who.value)
    : new Promise((resolve) => {
        desk.asking.value = async (answered) => {
          desk.asking.value = null;
          const named = answered && (await call("nameSession", {}, { name: answered.name }));
          desk.who.value = named?.kind === "ok" ? answered : null;
          resolve(desk.who.value);
        };
      });
