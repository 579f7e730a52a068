import type { LeafView } from "../../server/contract/views.ts";
import { placeInWords } from "../drawing/leaf-diagram.ts";
import { asMarkKind, figure, markWords, millimetres } from "../words.ts";

type Proposed = LeafView["proposed"][number];

const atOnce = 3;

/** The letter of a proposal in the drawing and in the list. */
export const proposalLetter = (index: number): string => String.fromCharCode(97 + (index % 26));

const Row = (props: {
  view: LeafView;
  letter: string;
  proposed: Proposed;
  onTake: (proposed: Proposed) => void;
  onWave: (proposed: Proposed) => void;
}) => {
  const { view, letter, proposed } = props;
  return (
    <li class="mark-row">
      <p>
        <span class="mark-number">{letter}</span> The photo shows something at{" "}
        {placeInWords(view.pattern, proposed.box)}, {millimetres(proposed.box)}: perhaps{" "}
        {markWords[asMarkKind(proposed.kind)].toLowerCase()}; stands out by ΔE00 {figure(proposed.contrastDE00, null)}.
      </p>
      <div class="buttons">
        <button type="button" onClick={() => props.onTake(proposed)}>
          Look at {letter} and record it
        </button>
        <button type="button" onClick={() => props.onWave(proposed)}>
          Nothing at {letter}
        </button>
      </div>
    </li>
  );
};

/** Places that the photo shows and no person has judged: each is taken over or waved off. A long list folds. */
export const ProposedMarks = (props: {
  view: LeafView;
  proposed: readonly Proposed[];
  onTake: (proposed: Proposed) => void;
  onWave: (proposed: Proposed) => void;
}) => {
  const rows = props.proposed.map((proposed, index) => (
    <Row
      key={`${proposed.box.x} ${proposed.box.y}`}
      view={props.view}
      letter={proposalLetter(index)}
      proposed={proposed}
      onTake={props.onTake}
      onWave={props.onWave}
    />
  ));
  const rest = rows.slice(atOnce);
  return (
    <>
      <ul class="mark-list">{rows.slice(0, atOnce)}</ul>
      {rest.length > 0 && (
        <details>
          <summary>{rest.length} more places that the photo shows</summary>
          <ul class="mark-list">{rest}</ul>
        </details>
      )}
    </>
  );
};
