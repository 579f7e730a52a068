import { type Signal, signal } from "@preact/signals";
import { createContext } from "preact";
import { useContext } from "preact/hooks";
import type { State } from "../server/contract/access.ts";
import type { ConflictView } from "../server/contract/conflict.ts";
import type { Actor } from "../server/contract/ids.ts";
import type { MatchView, Progress } from "../server/contract/views.ts";
import { call } from "./api.ts";
import type { KeptViews } from "./kept-views.ts";
import type { UploadQueue } from "./upload-queue.ts";
import { rememberName } from "./who.ts";

/** What was just done or refused; `takeBack` undoes it while the notice is shown. */
interface Notice {
  readonly tone: "done" | "refused";
  readonly says: string;
  readonly faults: readonly { at: string; says: string }[];
  readonly takeBack: (() => void) | null;
}

/** What all screens share. One is made at the start and handed down. */
export interface Desk {
  /** Whether this device is let in; "asking" until the laptop answered for the first time. */
  readonly standing: Signal<"asking" | "in" | "out">;
  /** How things stand, as the laptop last said; null before that and while it cannot be reached. */
  readonly state: Signal<State | null>;
  readonly who: Signal<Actor | null>;
  /** Set while the page asks for a name; called with it, or with null when the person turns away. */
  readonly asking: Signal<((name: string | null) => void) | null>;
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

export const openDesk = (queue: UploadQueue, kept: KeptViews): Desk => ({
  standing: signal("asking"),
  state: signal(null),
  who: signal(null),
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

/** The name that goes beside every entry; asks for it once on a device, and `again` when somebody else takes it. */
export const askWho = (desk: Desk, again = false): Promise<Actor | null> =>
  desk.who.value && !again
    ? Promise.resolve(desk.who.value)
    : new Promise((resolve) => {
        desk.asking.value = async (answered) => {
          desk.asking.value = null;
          const named = answered === null ? null : await call("nameSession", {}, { name: answered });
          if (named?.kind === "ok" && named.value.name !== null) {
            rememberName(localStorage, named.value.name);
            desk.who.value = { name: named.value.name, device: named.value.device };
          }
          resolve(desk.who.value);
        };
      });
