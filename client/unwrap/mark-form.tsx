import { useState } from "preact/hooks";
import type { Mark } from "../../server/contract/leaf.ts";
import type { LeafView } from "../../server/contract/views.ts";
import { useChange } from "../change.ts";
import { type Box, placeInWords } from "../drawing/leaf-diagram.ts";
import { NumberField, Pick, TextField } from "../fields.tsx";
import { markWords, partyWords, typedNumber } from "../words.ts";
import type { MarkDraft } from "./mark-draft.ts";

type Party = NonNullable<Mark["party"]>;

const kinds = Object.entries(markWords) as [Mark["kind"], string][];
const parties: readonly (readonly [Party | "", string])[] = [
  ["", "Not said"],
  ...(Object.entries(partyWords) as [Party, string][]),
];
const sides = [
  ["w", "Width"],
  ["h", "Height"],
  ["x", "From the left"],
  ["y", "From the top"],
] as const;

/** What a mark is, how large and how deep, and from how far it is still seen. */
export const MarkForm = (props: {
  delivery: string;
  view: LeafView;
  face: "A" | "B";
  draft: MarkDraft;
  onChange: (draft: MarkDraft) => void;
  onLeave: () => void;
}) => {
  const { delivery, view, face, draft, onChange } = props;
  const { change } = useChange();
  const [recording, setRecording] = useState(false);
  const depth = typedNumber(draft.depthMm);
  const distance = typedNumber(draft.seenFromM);
  const photos = view.photos.filter(({ photo }) => photo.shows.some((shown) => shown.face === face));
  const log = async () => {
    if (Number.isNaN(depth) || Number.isNaN(distance)) return;
    const { box, kind, foundBy, photo, party, note } = draft;
    const mark = {
      face,
      kind,
      box,
      depthMm: depth,
      seenFromM: distance || null,
      photo,
      party: party || null,
      note,
      foundBy,
    };
    const says = `${markWords[kind]} recorded on face ${face}.`;
    setRecording(true);
    const reply = await change("logMark", { delivery, leaf: view.leaf.code }, { mark }, says, ({ id }) => {
      void change("withdrawMark", { delivery, mark: id }, {}, "Mark withdrawn.");
    });
    setRecording(false);
    if (reply) props.onLeave();
  };
  const size = (side: keyof Box, text: string) => {
    const value = typedNumber(text);
    if (value !== null && value >= (side === "w" || side === "h" ? 0.1 : 0))
      onChange({ ...draft, box: { ...draft.box, [side]: value } });
  };
  return (
    <form
      class="plate mark-form"
      aria-label="New mark"
      onSubmit={(event) => {
        event.preventDefault();
        void log();
      }}
    >
      <p>
        New mark: <strong>{placeInWords(view.pattern, draft.box)}</strong> of face {face}
      </p>
      <Pick label="Kind" of={kinds} value={draft.kind} onChoose={(kind) => onChange({ ...draft, kind })} />
      <div class="fields four">
        {sides.map(([side, says]) => (
          <NumberField
            key={side}
            label={says}
            unit="mm"
            text={String(Math.round(draft.box[side] * 10) / 10)}
            onInput={(text) => size(side, text)}
          />
        ))}
        <NumberField
          label="Depth"
          unit="mm"
          text={draft.depthMm}
          onInput={(depthMm) => onChange({ ...draft, depthMm })}
        />
        <NumberField
          label="Seen from"
          unit="m"
          text={draft.seenFromM}
          onInput={(seenFromM) => onChange({ ...draft, seenFromM })}
        />
      </div>
      <div class="fields">
        <Pick
          label="Photo of it"
          of={[
            ["", "None yet"],
            ...photos.map(({ photo }): [string, string] => [photo.id, `${photo.kind}: ${photo.name}`]),
          ]}
          value={draft.photo ?? ""}
          onChoose={(photo) => onChange({ ...draft, photo: photo || null })}
        />
        <Pick
          label="Cause, in your opinion"
          of={parties}
          value={draft.party}
          onChoose={(party) => onChange({ ...draft, party })}
        />
        <TextField label="Note" value={draft.note} onInput={(note) => onChange({ ...draft, note })} />
      </div>
      <div class="buttons">
        <button type="submit" class="main" disabled={recording}>
          {recording ? "Measuring and recording …" : "Record this mark"}
        </button>
        <button type="button" onClick={props.onLeave}>
          Leave it
        </button>
      </div>
    </form>
  );
};
