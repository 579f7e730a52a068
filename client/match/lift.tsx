import type { MatchView } from "../../server/contract/views.ts";
import { call } from "../api.ts";
import { forcedWords, liftWords } from "./lift-words.ts";
import { Question } from "./question.tsx";

/** What forces the worst pair of the best plan, and each single change that would lift it. */
export const LiftQuestion = (props: { delivery: string; spaces: MatchView["spaces"] }) => {
  const nameOf = (id: string) => props.spaces.find(({ space }) => space.id === id)?.space.name ?? id;
  return (
    <Question
      title="What would lift the worst?"
      button="Find out"
      ready
      ask={() => call("askLift", { delivery: props.delivery }, {})}
      fields={null}
      answer={(answer) => (
        <>
          <p>{forcedWords(answer, nameOf)}</p>
          <ul>
            {answer.lifts.map((one) => {
              const says = liftWords(one, nameOf);
              return <li key={says}>{says}</li>;
            })}
          </ul>
        </>
      )}
    />
  );
};
