import { useState } from "preact/hooks";
import type { LeafView } from "../../server/contract/views.ts";
import { useChange } from "../change.ts";
import { type Box, drawnBox, overlap, placeInWords } from "../drawing/leaf-diagram.ts";
import { type DrawnMark, LeafDrawing } from "../drawing/leaf-drawing.tsx";
import { Icon, type IconName } from "../icon.tsx";
import { asMarkKind, figure, markWords } from "../words.ts";
import { draftAt, type MarkDraft, MarkForm } from "./mark-form.tsx";
import { readWavedOff, waveOff } from "./waved-off.ts";

type Judged = LeafView["marks"][number];
type Proposed = LeafView["proposed"][number];

const verdictIcons: Readonly<Record<Judged["judgement"]["verdict"], IconName>> = {
  natural: "good",
  "within-limits": "good",
  "beyond-limits": "warning",
  undecided: "unknown",
  "no-limit": "unknown",
};

const millimetres = ({ w, h }: Box) => `${Math.round(w)} × ${Math.round(h)} mm`;

const MarkRow = (props: { delivery: string; view: LeafView; number: string; judged: Judged }) => {
  const { delivery, view, judged } = props;
  const { mark, judgement } = judged;
  const { change } = useChange();
  return (
    <li class="mark-row">
      <p>
        <span class="mark-number">{props.number}</span> <strong>{markWords[mark.kind]}</strong>,{" "}
        {placeInWords(view.pattern, mark.box)}, {millimetres(mark.box)}
        {mark.depthMm !== null && `, ${mark.depthMm} mm deep`}
        {mark.seenFromM !== null && `, seen from ${mark.seenFromM} m`}
        {mark.contrastDE00 !== null && `; stands out from the timber by ΔE00 ${figure(mark.contrastDE00, null)}`}
      </p>
      {mark.note && <p>{mark.note}</p>}
      <p>
        <Icon name={verdictIcons[judgement.verdict]} /> {judgement.why}
      </p>
      <p class="quiet">
        Recorded by {mark.by}
        {mark.foundBy === "photo" && ", proposed by the photo"}
      </p>
      <button
        type="button"
        onClick={() => void change("withdrawMark", { delivery, mark: mark.id }, {}, "Mark withdrawn.")}
      >
        Withdraw mark {props.number}
      </button>
    </li>
  );
};

const ProposedRow = (props: {
  view: LeafView;
  letter: string;
  proposed: Proposed;
  onTake: () => void;
  onWave: () => void;
}) => {
  const { view, proposed } = props;
  return (
    <li class="mark-row">
      <p>
        <span class="mark-number">{props.letter}</span> The photo shows something at{" "}
        {placeInWords(view.pattern, proposed.box)}, {millimetres(proposed.box)}: perhaps{" "}
        {markWords[asMarkKind(proposed.kind)].toLowerCase()}; stands out by ΔE00 {figure(proposed.contrastDE00, null)}.
      </p>
      <div class="buttons">
        <button type="button" onClick={props.onTake}>
          Look at {props.letter} and record it
        </button>
        <button type="button" onClick={props.onWave}>
          Nothing there
        </button>
      </div>
    </li>
  );
};

const placeOf = ({ face, box }: Proposed) => `${face} ${box.x} ${box.y}`;

/** The drawn face with its marks; a tap starts a new one. What the photo proposes, a person takes over or waves off. */
export const Marks = (props: { delivery: string; view: LeafView; face: "A" | "B" }) => {
  const { delivery, view, face } = props;
  const [draft, setDraft] = useState<MarkDraft | null>(null);
  const [waved, wave] = useState(() => readWavedOff(localStorage, delivery, view.leaf.code));
  const marks = view.marks.filter(({ mark }) => mark.face === face && !mark.withdrawn);
  const proposed = view.proposed.filter(
    (one) =>
      one.face === face &&
      !waved.includes(placeOf(one)) &&
      !marks.some(({ mark }) => overlap(mark.box, drawnBox(one.box, 20))),
  );
  const colours = view.faces.find((one) => one.face === face);
  const letter = (index: number) => String.fromCharCode(97 + index);
  const drawn: DrawnMark[] = [
    ...marks.map(({ mark }, index) => ({
      id: mark.id,
      box: mark.box,
      label: String(index + 1),
      kind: "mark" as const,
    })),
    ...proposed.map((one, index) => ({
      id: placeOf(one),
      box: one.box,
      label: letter(index),
      kind: "proposed" as const,
    })),
    ...(draft ? [{ id: "draft", box: draft.box, label: "+", kind: "draft" as const }] : []),
  ];
  return (
    <section aria-labelledby="marks">
      <h2 id="marks">Marks on face {face}</h2>
      <p>Tap the drawing where the mark is, as you see it.</p>
      <div class="marks-layout">
        <LeafDrawing
          pattern={view.pattern}
          face={face}
          swatches={Object.fromEntries((colours?.parts ?? []).map(({ part, swatch }) => [part, swatch]))}
          marks={drawn}
          onPlace={(at) => setDraft(draftAt(draft, at, view.pattern))}
        />
        <div>
          {draft ? (
            <MarkForm
              delivery={delivery}
              view={view}
              face={face}
              draft={draft}
              onChange={setDraft}
              onLeave={() => setDraft(null)}
            />
          ) : (
            <button
              type="button"
              onClick={() =>
                setDraft(draftAt(null, { x: view.pattern.widthMm / 2, y: view.pattern.heightMm / 2 }, view.pattern))
              }
            >
              Add a mark
            </button>
          )}
          <ul class="mark-list">
            {marks.map((judged, index) => (
              <MarkRow
                key={judged.mark.id}
                delivery={delivery}
                view={view}
                number={String(index + 1)}
                judged={judged}
              />
            ))}
            {proposed.map((one, index) => (
              <ProposedRow
                key={placeOf(one)}
                view={view}
                letter={letter(index)}
                proposed={one}
                onTake={() =>
                  setDraft({
                    box: one.box,
                    kind: asMarkKind(one.kind),
                    foundBy: "photo",
                    photo: one.photo,
                    depthMm: "",
                    seenFromM: "",
                    party: "",
                    note: "",
                  })
                }
                onWave={() => wave(waveOff(localStorage, delivery, view.leaf.code, placeOf(one)))}
              />
            ))}
          </ul>
          {marks.length + proposed.length === 0 && !draft && <p>No mark on this face.</p>}
        </div>
      </div>
    </section>
  );
};
