import { isDeepStrictEqual } from "node:util";
import type { Draft } from "immer";
import type { Body } from "../contract/calls.ts";
import type { Conflict, ConflictView } from "../contract/conflict.ts";
import type { Delivery } from "../contract/delivery.ts";
import type { Actor } from "../contract/ids.ts";
import { Conflicted, Refusal } from "../problem.ts";
import type { Site } from "../site.ts";

/** What a call replaces: a thing that two people may set differently. */
interface Thing<Value> {
  /** As "the decision on W03". */
  readonly what: string;
  readonly leaf: string | null;
  /** What stands there; refused where there is no such thing. */
  read(delivery: Delivery): Value;
  readonly mine: Value;
  says(value: Value): string;
}

type Entry<Name extends Conflict["call"]> = Pick<Conflict, "params"> & {
  readonly call: Name;
  readonly body: Body<Name> & { readonly by: Actor };
};

/** At most so many open conflicts are kept; further entries are refused without being kept. */
const mostOpen = 200;

/** A page may be so many lines of the journal old: each is taken back in memory to see what changed since. */
const oldestLines = 2000;

/** A text for one line of a screen, not cut within a character. */
const shortened = (text: string): string => {
  const characters = Array.from(text);
  return characters.length > 90 ? `${characters.slice(0, 89).join("")}…` : text;
};

/** What another entered in the meantime. */
class Overtaken extends Error {
  readonly theirs: ConflictView["theirs"];
  constructor(theirs: ConflictView["theirs"]) {
    super(`${theirs.by} was first`);
    this.theirs = theirs;
  }
}

/** Undefined in a document that does not have the thing yet. */
const readIn = <Value>(thing: Thing<Value>, delivery: Delivery): Value | undefined => {
  try {
    return thing.read(delivery);
  } catch (error) {
    if (error instanceof Refusal) return undefined;
    throw error;
  }
};

/** A conflict without what only settling it needs. */
export const shownConflict = ({ id, what, leaf, theirs, yours }: Conflict): ConflictView => ({
  id,
  what,
  leaf,
  theirs,
  yours,
});

/** The conflicts that nobody has settled yet. */
export const openConflicts = ({ conflicts }: Pick<Delivery, "conflicts">): ConflictView[] =>
  conflicts.filter(({ settled }) => settled === null).map(shownConflict);

/**
 * Makes a change that replaces something. `body.seen` is the line of the journal up to which its page had read; where another
 * changed the same thing after it, this entry is set aside in the journal and refused with both shown. The same value on both
 * sides is no conflict. Without `seen` nothing is asked: a program at the command line saw what stands there.
 */
export const overwrite = async <Name extends Conflict["call"], Value>(
  site: Site,
  deliveryId: string,
  { call, params, body: { by, ...entry } }: Entry<Name>,
  thing: Thing<Value>,
  what: string,
  recipe: (draft: Draft<Delivery>) => void,
): Promise<{ seq: number }> => {
  const store = site.store.open(deliveryId);
  const { seen, ...body } = entry as { seen?: number };
  try {
    const { seq } = await store.change(by, what, async (draft, { document, head }) => {
      if (seen !== undefined && head.seq - seen > oldestLines)
        throw new Refusal("This page was read too long ago to enter anything over others' entries: load it again.");
      const last = seen === undefined ? null : await store.lastChange(seen, (delivery) => readIn(thing, delivery));
      const now = thing.read(document);
      if (last && (last.actor !== by.name || last.device !== by.device)) {
        if (isDeepStrictEqual(now, thing.mine)) return;
        const { actor, device, at } = last;
        throw new Overtaken({ says: shortened(thing.says(now)), by: actor, device, at });
      }
      recipe(draft);
    });
    return { seq };
  } catch (error) {
    if (!(error instanceof Overtaken)) throw error;
    const yours = { says: shortened(thing.says(thing.mine)), by: by.name, device: by.device, at: site.now() };
    const shown = { id: site.newId(), what: thing.what, leaf: thing.leaf, theirs: error.theirs, yours };
    const { result } = await store.change(by, `Set aside: ${what}`, (draft, { document }) => {
      const open = document.conflicts.filter(({ settled }) => settled === null);
      const again = open.find(
        (one) =>
          one.call === call &&
          one.yours.by === by.name &&
          one.yours.device === by.device &&
          isDeepStrictEqual([one.params, one.body], [params, body]),
      );
      if (again) return again.id;
      if (open.length >= mostOpen)
        throw new Refusal(
          `${error.theirs.by} changed ${thing.what} in the meantime, and ${mostOpen} conflicts are open: settle some.`,
        );
      draft.conflicts.push({ ...shown, call, params, body, settled: null });
      return shown.id;
    });
    throw new Conflicted(
      `${error.theirs.by} changed ${thing.what} in the meantime (${error.theirs.device}). Both entries are kept: choose one.`,
      { ...shown, id: result },
    );
  }
};
