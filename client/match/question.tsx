import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import type { Outcome } from "../api.ts";
import { Icon } from "../icon.tsx";

/** One question with its fields, a button that asks it, and the answer or why there is none. */
export const Question = <Answer,>(props: {
  title: string;
  button: string;
  ask: () => Promise<Outcome<Answer>>;
  ready: boolean;
  fields: ComponentChildren;
  answer: (answer: Answer) => ComponentChildren;
}) => {
  const [outcome, setOutcome] = useState<Outcome<Answer> | null>(null);
  const [asking, setAsking] = useState(false);
  const ask = async () => {
    setAsking(true);
    setOutcome(await props.ask());
    setAsking(false);
  };
  return (
    <details class="question">
      <summary>{props.title}</summary>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void ask();
        }}
      >
        {props.fields}
        <button type="submit" disabled={asking || !props.ready}>
          {props.button}
        </button>
      </form>
      <div role="status">
        {asking && <p>Working it out …</p>}
        {!asking && outcome?.kind === "ok" && props.answer(outcome.value)}
        {!asking && outcome?.kind === "unreachable" && (
          <p class="warn">
            <Icon name="warning" /> The laptop cannot be reached: ask again.
          </p>
        )}
        {!asking && outcome?.kind === "refused" && (
          <p class="warn">
            <Icon name="warning" /> {outcome.problem.detail}{" "}
            {outcome.problem.faults?.map(({ at, says }) => `${at}: ${says}.`).join(" ")}
          </p>
        )}
      </div>
    </details>
  );
};
