import { useState } from "preact/hooks";
import type { LeafView } from "../../server/contract/views.ts";
import { useChange } from "../change.ts";
import { drawnBox, overlap } from "../drawing/leaf-diagram.ts";
import { type DrawnMark, LeafDrawing } from "../drawing/leaf-drawing.tsx";
import { draftAt, draftOf, type MarkDraft } from "./mark-draft.ts";
import { MarkForm } from "./mark-form.tsx";
import { ProposedMarks, proposalLetter } from "./proposed-marks.tsx";
import { RecordedMark } from "./recorded-mark.tsx";

type Proposed = LeafView["proposed"][number];

const placeOf = ({ face, box }: Proposed) => `${face} ${box.x} ${box.y}`;

/** The drawn face with its marks; a tap starts a new one. What the photo proposes, a person takes over or waves off. */
export const Marks = (props: { delivery: string; view: LeafView; face: "A" | "B" }) => {
  const { delivery, view, face } = props;
  const [draft, setDraft] = useState<MarkDraft | null>(null);
  const { undoable } = useChange();
  const marks = view.marks.filter(({ mark }) => mark.face === face && !mark.withdrawn);
  const proposed = view.proposed.filter(
    (one) => one.face === face && !marks.some(({ mark }) => overlap(mark.box, drawnBox(one.box, 20))),
  );
  const colours = view.faces.find((one) => one.face === face);
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
      label: proposalLetter(index),
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
              <RecordedMark
                key={judged.mark.id}
                delivery={delivery}
                view={view}
                number={String(index + 1)}
                judged={judged}
              />
            ))}
          </ul>
          <ProposedMarks
            view={view}
            proposed={proposed}
            onTake={(one) => setDraft(draftOf(one))}
            onWave={(one) =>
              void undoable(
                delivery,
                "waveOff",
                { delivery, leaf: view.leaf.code },
                { face: one.face, box: one.box },
                "Noted: no mark there.",
              )
            }
          />
          {marks.length + proposed.length === 0 && !draft && <p>No mark on this face.</p>}
        </div>
      </div>
    </section>
  );
};
