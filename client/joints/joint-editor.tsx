import { useEffect, useState } from "preact/hooks";
import { layoutFault } from "../../analysis/joints/layout-fault.ts";
import type { Pattern } from "../../server/contract/leaf.ts";
import { useChange } from "../change.ts";
import { Icon } from "../icon.tsx";
import { draftOf, type JointDraft, laidPattern, putLine, putMoulding, stepBack } from "./joint-draft.ts";
import { type ChosenLine, JointDrawing } from "./joint-drawing.tsx";
import { JointLoupe } from "./joint-loupe.tsx";
import { JointNumbers } from "./joint-numbers.tsx";
import { shelve, takenUp } from "./kept-draft.ts";

const sameParts = (one: Pattern, other: Pattern): boolean => JSON.stringify(one.parts) === JSON.stringify(other.parts);

/** The draft of a pattern's joints. It follows the pattern while nothing was moved; what was moved outlasts leaving the screen. */
const useJointDraft = (delivery: string, pattern: Pattern) => {
  const [draft, setDraft] = useState<JointDraft>(() => takenUp(sessionStorage, delivery, pattern));
  const laid = laidPattern(draft);
  const untouched = draft.past.length === 0;
  const kept = sameParts(laid, pattern);
  const changed = !sameParts(draft.from, pattern);
  useEffect(() => {
    if (changed && (untouched || kept)) setDraft(draftOf(pattern));
  }, [changed, untouched, kept, pattern]);
  useEffect(() => shelve(sessionStorage, delivery, draft), [delivery, draft]);
  return { draft, setDraft, laid, untouched, overtaken: changed && !untouched && !kept };
};

/** Lays the joints of a pattern over a photo of a face of it, and keeps them for all its leaves. */
export const JointEditor = (props: {
  delivery: string;
  pattern: Pattern;
  leaves: number;
  seq: number;
  picture: string | null;
}) => {
  const { delivery, picture } = props;
  const { undoable } = useChange();
  const { draft, setDraft, laid: pattern, untouched, overtaken } = useJointDraft(delivery, props.pattern);
  const [chosen, choose] = useState<ChosenLine | null>(null);
  const [keeping, setKeeping] = useState(false);
  const fault = layoutFault(pattern);
  const place = (line: number, atMm: number, gesture: string) =>
    setDraft((before) => putLine(before, line, atMm, gesture));
  const keep = async () => {
    setKeeping(true);
    await undoable(
      delivery,
      "setJoints",
      { delivery, pattern: pattern.id },
      { seen: props.seq, parts: pattern.parts.map(({ name, rectMm }) => ({ name, rectMm })) },
      "Joints kept. Photos of these leaves are measured anew.",
    );
    setKeeping(false);
  };
  return (
    <div class="joint-editor">
      <JointDrawing
        draft={draft}
        pattern={pattern}
        picture={picture}
        chosen={chosen}
        onChoose={choose}
        onPlace={place}
      />
      <div class="joint-side">
        <JointLoupe draft={draft} pattern={pattern} picture={picture} chosen={chosen} onPlace={place} />
        <div role="status">
          {fault !== null && (
            <p class="plate warn">
              <Icon name="warning" /> {fault}
            </p>
          )}
          {overtaken && (
            <p class="plate warn">
              <Icon name="warning" /> These joints were changed elsewhere meanwhile: keeping yours replaces them.
            </p>
          )}
        </div>
        <div class="buttons">
          <button
            type="button"
            class="main"
            disabled={untouched || fault !== null || keeping}
            onClick={() => void keep()}
          >
            Keep for {props.leaves > 1 ? `all ${props.leaves} leaves` : "this pattern"}
          </button>
          <button type="button" disabled={untouched} onClick={() => setDraft(stepBack)}>
            <Icon name="undo" /> One step back
          </button>
        </div>
        <JointNumbers
          draft={draft}
          pattern={pattern}
          onPlace={place}
          onMoulding={(mm) => setDraft((before) => putMoulding(before, mm))}
        />
      </div>
    </div>
  );
};
