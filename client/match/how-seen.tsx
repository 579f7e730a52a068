import { useState } from "preact/hooks";
import type { MatchView } from "../../server/contract/views.ts";
import { useChange } from "../change.ts";
import { NumberField } from "../fields.tsx";
import { draftOf, type LookDraft, lookOf, lookWords, typedWeight } from "./look-draft.ts";
import { SpaceLook } from "./space-look.tsx";

type Sight = MatchView["sight"];

const sightFields = [
  ["meeting", "The two leaves of a pair, where they meet"],
  ["beside", "Side by side on a wall"],
  ["across", "On two walls, across from each other"],
  ["apart", "On one wall, others between them"],
] as const satisfies readonly (readonly [keyof Sight, string])[];

const texts = (sight: Sight) => ({
  meeting: String(sight.meeting),
  beside: String(sight.beside),
  across: String(sight.across),
  apart: String(sight.apart),
});

const sightOf = (text: ReturnType<typeof texts>): Sight | null => {
  const [meeting, beside, across, apart] = sightFields.map(([key]) => typedWeight(text[key], 10));
  if (meeting == null || beside == null || across == null || apart == null) return null;
  return { meeting, beside, across, apart };
};

const Fields = (props: { delivery: string; view: MatchView }) => {
  const { delivery, view } = props;
  const { undoable } = useChange();
  const [weights, setWeights] = useState(() => texts(view.sight));
  const [changed, setChanged] = useState<Readonly<Record<string, LookDraft>>>({});
  const spaces = view.spaces
    .filter(({ places }) => places.length > 1)
    .map(({ space, places }) => ({
      ...space,
      draft: changed[space.id] ?? draftOf(space.look),
      openings: [...new Set(places.map(({ opening }) => opening))],
    }));
  const sight = sightOf(weights);
  const looks = spaces.flatMap(({ id, draft }) => (id in changed ? [{ id, look: lookOf(draft) }] : []));
  const wrong = sight === null || looks.some(({ look }) => look === "wrong");
  const save = () => {
    const right = looks.flatMap(({ id, look }) => (look === "wrong" ? [] : [{ id, look }]));
    if (sight)
      void undoable(
        delivery,
        "setSight",
        { delivery },
        { seen: view.seq, sight, spaces: right },
        "How it is seen is saved. Plan again to use it.",
      );
  };
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        save();
      }}
    >
      <p>
        How much the difference of two leaves counts, by where they stand: 0 not at all, 1 as it is measured, 10 at
        most. Where a space's walls are not told, every two of its leaves count 1.
      </p>
      <div class="sight-weights">
        {sightFields.map(([key, label]) => (
          <NumberField
            key={key}
            label={label}
            unit={`usual ${view.usualSight[key]}`}
            text={weights[key]}
            onInput={(text) => setWeights({ ...weights, [key]: text })}
          />
        ))}
      </div>
      <h3>Space by space</h3>
      {spaces.map(({ id, name, openings, draft }) => (
        <SpaceLook
          key={id}
          name={name}
          openings={openings}
          draft={draft}
          summary={lookWords(draft)}
          onChange={(next) => setChanged({ ...changed, [id]: next })}
        />
      ))}
      {wrong && <p class="warn">A number is missing or out of its range: put it right to save.</p>}
      <div class="buttons">
        <button type="submit" class="main" disabled={wrong}>
          Save how it is seen
        </button>
        <button type="button" onClick={() => setWeights(texts(view.usualSight))}>
          Usual numbers
        </button>
      </div>
    </form>
  );
};

/** What counts how much when leaves are allotted; the fields start anew from what is stored whenever that changes. */
export const HowSeen = (props: { delivery: string; view: MatchView }) => {
  const { sight, spaces } = props.view;
  const stored = JSON.stringify([sight, spaces.map(({ space }) => space.look ?? null)]);
  return (
    <section class="folded how-seen" aria-labelledby="how-seen">
      <h2 id="how-seen">How it is seen</h2>
      <details>
        <summary>What counts how much when leaves are allotted</summary>
        <Fields key={stored} {...props} />
      </details>
    </section>
  );
};
