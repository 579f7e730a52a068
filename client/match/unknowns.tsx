import { Icon } from "../icon.tsx";

const atOnce = 5;

const List = (props: { sentences: readonly string[] }) => (
  <ul class="unknowns">
    {props.sentences.map((sentence) => (
      <li key={sentence}>
        <Icon name="unknown" /> {sentence}
      </li>
    ))}
  </ul>
);

/** What cannot be told and which photo would settle it; a long list folds after the first few. */
export const Unknowns = (props: { sentences: readonly string[] }) => {
  const rest = props.sentences.slice(atOnce);
  return (
    <>
      <List sentences={props.sentences.slice(0, atOnce)} />
      {rest.length > 0 && (
        <details>
          <summary>{rest.length} more</summary>
          <List sentences={rest} />
        </details>
      )}
    </>
  );
};
