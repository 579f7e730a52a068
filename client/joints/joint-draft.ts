import {
  type JointLine,
  type JointPlaces,
  jointLines,
  laidOnLines,
  mouldingOf,
} from "../../analysis/joints/joint-lines.ts";
import type { Pattern } from "../../server/contract/leaf.ts";

/** Joints being laid: the pattern they began from, where its lines are now, and where they were before each step. */
export interface JointDraft {
  readonly from: Pattern;
  readonly lines: readonly JointLine[];
  readonly places: JointPlaces;
  readonly past: readonly JointPlaces[];
  /** What the last step belongs to: one drag, or keys pressed on one line, are one step to take back. */
  readonly gesture: string | null;
}

export const draftOf = (pattern: Pattern): JointDraft => {
  const lines = jointLines(pattern);
  const places = { linesMm: lines.map(({ atMm }) => atMm), mouldingMm: null };
  return { from: pattern, lines, places, past: [], gesture: null };
};

const stepped = (draft: JointDraft, places: JointPlaces, gesture: string): JointDraft => {
  const past = gesture === draft.gesture ? draft.past : [...draft.past, draft.places];
  return { ...draft, places, past, gesture };
};

/** The draft with one line put elsewhere, mm from the left or the top. */
export const putLine = (draft: JointDraft, line: number, atMm: number, gesture: string): JointDraft => {
  if (draft.places.linesMm[line] === atMm) return draft;
  const linesMm = draft.places.linesMm.map((place, index) => (index === line ? atMm : place));
  return stepped(draft, { ...draft.places, linesMm }, gesture);
};

/** The draft with another breadth of moulding round all panels, mm. */
export const putMoulding = (draft: JointDraft, mouldingMm: number): JointDraft =>
  stepped(draft, { ...draft.places, mouldingMm }, "moulding");

/** The draft as it was before its last step. */
export const stepBack = (draft: JointDraft): JointDraft => {
  const places = draft.past.at(-1);
  return places ? { ...draft, places, past: draft.past.slice(0, -1), gesture: null } : draft;
};

/** The moulding as it is in the draft; null without framed panels. */
export const mouldingIn = ({ places, lines }: JointDraft): number | null => places.mouldingMm ?? mouldingOf(lines);

const tenth = (length: number): number => Math.round(length * 10) / 10;

/** The pattern as drafted, in tenths of a mm. */
export const laidPattern = ({ from, lines, places }: JointDraft): Pattern => ({
  ...from,
  parts: laidOnLines(from, lines, places).parts.map((part) => {
    const [x, y, width, height] = part.rectMm;
    return { ...part, rectMm: [tenth(x), tenth(y), tenth(width), tenth(height)] };
  }),
});
