import type { Mark, Pattern } from "../../server/contract/leaf.ts";
import type { LeafView } from "../../server/contract/views.ts";
import { type Box, boxAround } from "../drawing/leaf-diagram.ts";
import { asMarkKind } from "../words.ts";

/** A mark as it is being entered; depth and distance stand as typed. */
export interface MarkDraft {
  readonly box: Box;
  readonly kind: Mark["kind"];
  readonly foundBy: Mark["foundBy"];
  readonly photo: string | null;
  readonly depthMm: string;
  readonly seenFromM: string;
  readonly party: NonNullable<Mark["party"]> | "";
  readonly note: string;
}

const blank: MarkDraft = {
  box: { x: 0, y: 0, w: 20, h: 20 },
  kind: "dent",
  foundBy: "person",
  photo: null,
  depthMm: "",
  seenFromM: "",
  party: "",
  note: "",
};

/** A draft at a tapped place, mm on the face; what was already entered is kept. */
export const draftAt = (
  draft: MarkDraft | null,
  at: { readonly x: number; readonly y: number },
  pattern: Pattern,
): MarkDraft => {
  const before = draft ?? blank;
  return { ...before, box: boxAround(at, before.box, pattern) };
};

/** A draft of what a photo proposes: its place, its likely kind and the photo itself. */
export const draftOf = ({ box, kind, photo }: LeafView["proposed"][number]): MarkDraft => ({
  ...blank,
  box,
  kind: asMarkKind(kind),
  foundBy: "photo",
  photo,
});
