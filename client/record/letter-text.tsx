import { useState } from "preact/hooks";
import { address } from "../api.ts";
import { Icon } from "../icon.tsx";
import { TextToCopy } from "./text-to-copy.tsx";

const unread = "The letter could not be read from the laptop. Fold this up and open it again.";

/** The letter that goes with a record, read when it is opened. */
export const LetterText = (props: { delivery: string; number: number }) => {
  const { delivery, number } = props;
  const [letter, setLetter] = useState<{ text: string } | { says: string } | null>(null);
  const read = async () => {
    setLetter(null);
    const answer = await fetch(address("recordLetter", { delivery, number })).catch(() => null);
    setLetter(answer?.ok ? { text: await answer.text() } : { says: unread });
  };
  return (
    <details onToggle={(event) => event.currentTarget.open && void read()}>
      <summary>Letter text of No. {number}</summary>
      {letter === null && <p class="quiet">Reading from the laptop …</p>}
      {letter && "says" in letter && (
        <p class="plate warn">
          <Icon name="warning" /> {letter.says}
        </p>
      )}
      {letter && "text" in letter && <TextToCopy label={`Letter of No. ${number}`} text={letter.text} rows={12} />}
    </details>
  );
};
