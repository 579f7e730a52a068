import { useLocation } from "preact-iso";
import type { LeafView } from "../../server/contract/views.ts";
import { useChange } from "../change.ts";
import { OpenConflicts } from "../conflict/open-conflicts.tsx";
import { Windows } from "../delivery/windows.tsx";
import { Choice } from "../fields.tsx";
import { Icon } from "../icon.tsx";
import { Only } from "../may.tsx";
import { nowWithOffset } from "../times.ts";
import { Colours } from "../unwrap/colours.tsx";
import { DecisionForm } from "../unwrap/decision-form.tsx";
import { FacePhotos } from "../unwrap/face-photos.tsx";
import { Marks } from "../unwrap/marks.tsx";
import { OtherPhotos } from "../unwrap/other-photos.tsx";
import { Shape } from "../unwrap/shape.tsx";
import { Shown, useView } from "../view.tsx";
import { outcomeWords } from "../words.ts";

const zone = Intl.DateTimeFormat().resolvedOptions().timeZone;

/** The rule and the button before the wrapping comes off. */
const BeforeUnwrapping = (props: { delivery: string; view: LeafView }) => {
  const { delivery, view } = props;
  const { undoable } = useChange();
  return (
    <section class="wide" aria-labelledby="wrapped">
      <h2 id="wrapped">Still wrapped</h2>
      {view.beforeUnwrapping && (
        <p class="plate warn">
          <Icon name="warning" /> {view.beforeUnwrapping}
        </p>
      )}
      <p>First photograph the wrapping, above all where it is torn or wet, and the label.</p>
      <OtherPhotos delivery={delivery} view={view} face="A" />
      <button
        type="button"
        class="main"
        onClick={() =>
          void undoable(
            delivery,
            "unwrapLeaf",
            { delivery, leaf: view.leaf.code },
            { seen: view.seq, at: nowWithOffset(new Date()) },
            `${view.leaf.code} unwrapped.`,
          )
        }
      >
        <Icon name="unwrap" /> It is unwrapped now
      </button>
    </section>
  );
};

const Identity = (props: { delivery: string; view: LeafView }) => {
  const { delivery, view } = props;
  const { undoable } = useChange();
  return (
    <Choice
      label="Is it the leaf that was ordered?"
      of={[
        ["as-ordered", "as ordered"],
        ["wrong", "wrong item"],
        ["over", "one too many"],
      ]}
      value={view.leaf.identity}
      onChoose={(identity) =>
        void undoable(
          delivery,
          "identifyLeaf",
          { delivery, leaf: view.leaf.code },
          { seen: view.seq, identity },
          `${view.leaf.code} noted as ${identity.replace("-", " ")}.`,
        )
      }
    />
  );
};

const Decision = (props: { delivery: string; view: LeafView }) => {
  const { decision } = props.view.leaf;
  const otherwise = decision
    ? `${decision.by} decided: ${outcomeWords[decision.outcome].toLowerCase()}. ${decision.reason}`.trim()
    : "The foreman decides what becomes of it.";
  return (
    <Only may="decideLeaf" otherwise={otherwise}>
      <DecisionForm delivery={props.delivery} view={props.view} timeZone={zone} />
    </Only>
  );
};

/** One leaf: its faces, its marks on the drawn leaf, its colours and shape, and what is decided. */
export const LeafScreen = (props: { delivery: string; leaf: string }) => {
  const { delivery } = props;
  const { query } = useLocation();
  const face = query.face === "B" ? "B" : "A";
  const view = useView("leaf", { delivery, leaf: props.leaf });
  return (
    <>
      <p>
        <a class="button" href={`/d/${delivery}/unwrap`}>
          <Icon name="back" /> All leaves
        </a>
      </p>
      <Shown view={view}>
        {(leaf) => (
          <>
            <h1>
              {leaf.leaf.code} <span class="quiet">{leaf.item}</span>
            </h1>
            <p>
              {leaf.placed
                ? `For opening ${leaf.placed.opening}${leaf.placed.turned ? ", turned" : ""}. `
                : "No opening yet. "}
              {leaf.leaf.pairWith && `One of a pair with ${leaf.leaf.pairWith}: judged as one. `}
              {leaf.leaf.replaces && `Replaces ${leaf.leaf.replaces}. `}
              {leaf.leaf.cut && "Already cut."}
            </p>
            <OpenConflicts delivery={delivery} conflicts={leaf.conflicts} />
            {leaf.cautions.length > 0 && (
              <ul class="plate cautions">
                {leaf.cautions.map((caution) => (
                  <li key={caution}>
                    <Icon name="warning" /> {caution}
                  </li>
                ))}
              </ul>
            )}
            {leaf.missing.length > 0 && (
              <p>
                <Icon name="camera" /> Still to photograph: {leaf.missing.join("; ")}.
              </p>
            )}
            <div class="sections">
              {leaf.line !== null && leaf.leaf.unwrappedAt === null && (
                <BeforeUnwrapping delivery={delivery} view={leaf} />
              )}
              <nav class="chips wide" aria-label="Face">
                {(["A", "B"] as const).map((side) => (
                  <a
                    key={side}
                    href={`/d/${delivery}/unwrap/${props.leaf}?face=${side}`}
                    aria-current={side === face ? "true" : undefined}
                  >
                    Face {side}
                  </a>
                ))}
              </nav>
              <div class="column">
                <FacePhotos delivery={delivery} view={leaf} face={face} />
                <Colours delivery={delivery} view={leaf} face={face} />
                {leaf.leaf.unwrappedAt !== null && (
                  <section aria-labelledby="other-photos">
                    <h2 id="other-photos">Other photos</h2>
                    <OtherPhotos delivery={delivery} view={leaf} face={face} />
                  </section>
                )}
              </div>
              <div class="column">
                <Marks key={face} delivery={delivery} view={leaf} face={face} />
                <Shape delivery={delivery} view={leaf} timeZone={zone} />
                {leaf.line !== null && (
                  <section aria-labelledby="decision">
                    <h2 id="decision">Decision</h2>
                    <Identity delivery={delivery} view={leaf} />
                    <Decision delivery={delivery} view={leaf} />
                    {leaf.windows.length > 0 && <Windows windows={leaf.windows} timeZone={zone} />}
                  </section>
                )}
              </div>
            </div>
          </>
        )}
      </Shown>
    </>
  );
};
