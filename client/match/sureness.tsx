import type { SurenessAnswer } from "../../server/contract/questions.ts";
import type { MatchView } from "../../server/contract/views.ts";
import { call } from "../api.ts";
import { Question } from "./question.tsx";
import { changeWords, comparedSpaces, leafSays, photoWords, spaceSureWords } from "./sure-words.ts";

const Sure = (props: { answer: SurenessAnswer; spaces: MatchView["spaces"] }) => {
  const { answer, spaces } = props;
  const nameOf = (id: string) => spaces.find(({ space }) => space.id === id)?.space.name ?? id;
  const leaves = leafSays(answer);
  return (
    <>
      <ul>
        {comparedSpaces(answer).map((one) => (
          <li key={one.space}>{spaceSureWords(one, nameOf(one.space), answer.tolerance)}</li>
        ))}
      </ul>
      {leaves.map(({ says, codes }) => (
        <p key={says}>
          <strong>{says}:</strong> {codes.join(", ")}
        </p>
      ))}
      <p>{photoWords(answer)}</p>
      {answer.decisions.length === 0 ? (
        <p>Drawn anew {answer.redraws} times within the uncertainty of its colours, the plan stays as it is.</p>
      ) : (
        <details>
          <summary>Places that change within the uncertainty: {answer.decisions.length}</summary>
          <ul>
            {answer.decisions.map((one) => (
              <li key={`${one.opening} ${one.place}`}>{changeWords(one, answer.redraws)}</li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
};

/** Which spaces and leaves hold whatever the colours are within their uncertainty, and the photo that settles most. */
export const SurenessQuestion = (props: { delivery: string; spaces: MatchView["spaces"] }) => (
  <Question
    title="How sure is this plan?"
    button="Try it within the uncertainty"
    ready
    ask={() => call("askSureness", { delivery: props.delivery }, {})}
    fields={null}
    answer={(answer) => <Sure answer={answer} spaces={props.spaces} />}
  />
);
