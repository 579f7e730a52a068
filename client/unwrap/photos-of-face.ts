import type { Gate } from "../../server/contract/photo.ts";
import type { LeafView } from "../../server/contract/views.ts";

type LeafPhoto = LeafView["photos"][number];

/** Photos that show the whole of a face, newest first; details and labels are no whole face. */
export const photosOfFace = (view: LeafView, face: "A" | "B"): readonly LeafPhoto[] =>
  view.photos
    .filter(
      ({ photo }) =>
        (photo.kind === "single" || photo.kind === "line-up") &&
        photo.shows.some((shown) => shown.leaf === view.leaf.code && shown.face === face),
    )
    .toSorted((a, b) => (a.photo.receivedAt < b.photo.receivedAt ? 1 : -1));

const adviceOf = (gates: readonly Gate[]): string =>
  gates
    .filter(({ passed }) => !passed)
    .map(({ advice }) => advice)
    .filter((advice, index, all) => all.indexOf(advice) === index)
    .join(" ");

type Shown = LeafPhoto["photo"]["shows"][number];

/** The faces that a measured photo is said to show and in which they were not found: their corners are to be set by hand. */
export const facesNotFound = ({ photo, state }: LeafPhoto): readonly Shown[] =>
  state.kind === "measured"
    ? photo.shows.filter(({ leaf, face }) => !state.faces.some((found) => found.leaf === leaf && found.face === face))
    : [];

/** A photo sent back because its chart is not of the edition chosen. */
export const failsItsChart = ({ state }: LeafPhoto): boolean =>
  state.kind === "retake" && state.gates.some(({ gate, passed }) => gate === "wrong-chart" && !passed);

const references: Readonly<Record<string, string>> = { chart: "the chart", grey: "the grey card" };

const damageWords = {
  missing: "Photo damaged: its file is missing. Send it again if a phone still has it, or photograph the face again.",
  changed:
    "Photo damaged: the file is not as it came in. Send it again if a phone still has it, or photograph the face again.",
} as const;

/** What became of a photo, in a sentence; `well` when it gave a colour. What is open in it says what to see to. */
export const photoSays = ({ state, damage }: LeafPhoto): { readonly well: boolean; readonly says: string } => {
  if (damage !== null) return { well: false, says: damageWords[damage] };
  if (state.kind === "waiting") return { well: true, says: "Waits to be measured." };
  if (state.kind === "kept") return { well: true, says: `Kept, not measured: ${state.why}` };
  if (state.kind === "failed") return { well: false, says: state.why };
  if (state.kind === "retake") return { well: false, says: adviceOf(state.gates) };
  const by = state.references.map((one) => references[one] ?? one).join(" and ");
  const says = [`Measured${by && ` with ${by}`}.`, adviceOf(state.open)].filter(Boolean).join(" ");
  return { well: state.open.length === 0, says };
};
