import { useState } from "preact/hooks";
import type { FewMovesAnswer } from "../../server/contract/questions.ts";
import type { MatchView } from "../../server/contract/views.ts";
import { call } from "../api.ts";
import { useChange } from "../change.ts";
import { NumberField, Pick } from "../fields.tsx";
import { figure, typedNumber } from "../words.ts";
import { LiftQuestion } from "./lift.tsx";
import { NewLook } from "./new-look.tsx";
import { Question } from "./question.tsx";
import { atWords, lateWords, movesWords, moveWords, replaceWords, returnsWords } from "./question-words.ts";
import { SurenessQuestion } from "./sureness.tsx";

const isFrom0 = (text: string): boolean => (typedNumber(text) ?? Number.NaN) >= 0;

const Moves = (props: { moves: FewMovesAnswer }) => (
  <ul class="moves">
    {props.moves.moved.map((one) => (
      <li key={one.leaf}>
        <strong>{one.leaf}</strong> {moveWords(one)}
      </li>
    ))}
  </ul>
);

const ReturnsQuestion = (props: { delivery: string; tolerance: number }) => {
  const [text, setText] = useState(String(props.tolerance));
  return (
    <Question
      title="Which leaves to send back, as few as can be?"
      button="Find the fewest"
      ready={isFrom0(text) && typedNumber(text) !== 0}
      ask={() => call("askReturns", { delivery: props.delivery }, { tolerance: typedNumber(text) })}
      fields={<NumberField label="Every space keeps" unit="ΔE00" text={text} onInput={setText} />}
      answer={(answer) => (
        <>
          <p>{returnsWords(answer)}</p>
          <ul>
            {answer.replace.map((one) => (
              <li key={atWords(one)}>{replaceWords(one)}</li>
            ))}
          </ul>
        </>
      )}
    />
  );
};

const named = (codes: readonly string[]) => codes.map((code) => [code, code] as const);

const LateQuestion = (props: { delivery: string; leaves: readonly string[] }) => {
  const [leaf, choose] = useState(props.leaves[0] ?? "");
  return (
    <Question
      title="A leaf is late: which opening to leave empty?"
      button="Find the opening"
      ready={leaf !== ""}
      ask={() => call("askLate", { delivery: props.delivery }, { leaf })}
      fields={<Pick label="Late leaf" of={named(props.leaves)} value={leaf} onChoose={choose} />}
      answer={(answer) => lateWords(answer).map((says) => <p key={says}>{says}</p>)}
    />
  );
};

const WhatIfQuestion = (props: { delivery: string; leaves: readonly string[]; openings: readonly string[] }) => {
  const [leaf, chooseLeaf] = useState(props.leaves[0] ?? "");
  const [opening, chooseOpening] = useState(props.openings[0] ?? "");
  return (
    <Question
      title="What changes if a leaf is held somewhere?"
      button="Try it"
      ready={leaf !== "" && opening !== ""}
      ask={() => call("askWhatIf", { delivery: props.delivery }, { leaf, opening, turned: null, loss: 0 })}
      fields={
        <>
          <Pick label="Leaf" of={named(props.leaves)} value={leaf} onChoose={chooseLeaf} />
          <Pick label="Held in" of={named(props.openings)} value={opening} onChoose={chooseOpening} />
        </>
      }
      answer={({ now, wished, least }) => (
        <>
          <p>
            Worst pair now {figure(now.worst, null)}, with {leaf} held in {opening} {figure(wished.worst, null)}.{" "}
            {movesWords(least)}
          </p>
          <Moves moves={least} />
        </>
      )}
    />
  );
};

const MovesQuestion = (props: { delivery: string }) => {
  const { delivery } = props;
  const { change } = useChange();
  const [text, setText] = useState("0.5");
  const loss = typedNumber(text) ?? 0;
  return (
    <Question
      title="Something changed: which few leaves to move?"
      button="Find the fewest moves"
      ready={isFrom0(text)}
      ask={() => call("askMoves", { delivery }, { loss })}
      fields={
        <NumberField
          label="For fewer moves, the worst pair may be worse by"
          unit="ΔE00"
          text={text}
          onInput={setText}
        />
      }
      answer={({ chosen, curve }) => (
        <>
          <p>{movesWords(chosen)}</p>
          <Moves moves={chosen} />
          <details>
            <summary>What more or fewer moves would give</summary>
            <ul>
              {curve.map((one) => (
                <li key={one.worst}>{movesWords(one)}</li>
              ))}
            </ul>
          </details>
          <button
            type="button"
            onClick={() => void change("planFewMoves", { delivery }, { loss }, "Planned with few moves.")}
          >
            Make this the plan
          </button>
        </>
      )}
    />
  );
};

const LookQuestion = (props: { delivery: string; openings: MatchView["openings"] }) => {
  const places = props.openings
    .filter(({ existingLeaf }) => existingLeaf === null)
    .flatMap(({ id, leaves }) => ([0, 1] as const).slice(0, leaves).map((place) => ({ opening: id, place })));
  const [at, choose] = useState(atWords(places[0] ?? { opening: "", place: 0 }));
  const chosen = places.find((one) => atWords(one) === at);
  return (
    <Question
      title="What must a new leaf look like?"
      button="Describe it"
      ready={chosen !== undefined}
      ask={() =>
        call("askReplacement", { delivery: props.delivery, opening: chosen?.opening ?? "", place: chosen?.place ?? 0 })
      }
      fields={<Pick label="New leaf for" of={named(places.map(atWords))} value={at} onChoose={choose} />}
      answer={(answer) => <NewLook answer={answer} />}
    />
  );
};

/** What a joiner asks about the plan beside the plan itself; nothing changes by asking. */
export const Questions = (props: { delivery: string; view: MatchView }) => {
  const { delivery, view } = props;
  const hung = view.spaces.flatMap(({ places }) =>
    places.flatMap(({ leaf, existing }) => (leaf === null || existing ? [] : [leaf])),
  );
  const leaves = [...new Set([...hung, ...view.spare])].toSorted();
  const openings = view.openings.filter(({ existingLeaf }) => existingLeaf === null).map(({ id }) => id);
  if (leaves.length === 0) return null;
  return (
    <section class="questions" aria-labelledby="questions">
      <h2 id="questions">Ask about the plan</h2>
      <LiftQuestion delivery={delivery} spaces={view.spaces} />
      <SurenessQuestion delivery={delivery} spaces={view.spaces} />
      <ReturnsQuestion delivery={delivery} tolerance={view.tolerance} />
      <LookQuestion delivery={delivery} openings={view.openings} />
      <LateQuestion delivery={delivery} leaves={leaves} />
      <WhatIfQuestion delivery={delivery} leaves={leaves} openings={openings} />
      <MovesQuestion delivery={delivery} />
    </section>
  );
};
