import type { JointPlaces } from "../../analysis/joints/joint-lines.ts";
import type { Pattern } from "../../server/contract/leaf.ts";
import { draftOf, type JointDraft } from "./joint-draft.ts";

type Shelf = Pick<Storage, "getItem" | "setItem" | "removeItem">;

interface Kept {
  readonly from: Pattern;
  readonly places: JointPlaces;
}

const nameOf = (delivery: string, pattern: string): string => `leafledger.joints.${delivery}.${pattern}`;

/** Keeps lines that were moved and not yet kept on the laptop, so that leaving the screen loses nothing; forgets them when none is. */
export const shelve = (shelf: Shelf, delivery: string, { from, places, past }: JointDraft): void => {
  const name = nameOf(delivery, from.id);
  try {
    if (past.length === 0) shelf.removeItem(name);
    else shelf.setItem(name, JSON.stringify({ from, places } satisfies Kept));
  } catch {
    // A full shelf must not stop the hand on the line; the draft is still on the screen.
  }
};

/** The draft of a pattern: as it was left, or anew; lines moved before are one step to take back. */
export const takenUp = (shelf: Shelf, delivery: string, pattern: Pattern): JointDraft => {
  const kept = shelf.getItem(nameOf(delivery, pattern.id));
  if (kept === null) return draftOf(pattern);
  const { from, places } = JSON.parse(kept) as Kept;
  const begun = draftOf(from);
  return { ...begun, places, past: [begun.places] };
};
