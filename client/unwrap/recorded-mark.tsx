import type { LeafView } from "../../server/contract/views.ts";
import { useChange } from "../change.ts";
import { placeInWords } from "../drawing/leaf-diagram.ts";
import { Icon, type IconName } from "../icon.tsx";
import { figure, markWords, millimetres } from "../words.ts";

type Judged = LeafView["marks"][number];

const verdictIcons: Readonly<Record<Judged["judgement"]["verdict"], IconName>> = {
  natural: "good",
  "within-limits": "good",
  "beyond-limits": "warning",
  undecided: "unknown",
  "no-limit": "unknown",
};

/** A recorded mark with its judgement by the agreed limits. */
export const RecordedMark = (props: { delivery: string; view: LeafView; number: string; judged: Judged }) => {
  const { delivery, view, judged } = props;
  const { mark, judgement } = judged;
  const { undoable } = useChange();
  return (
    <li class="mark-row">
      <p>
        <span class="mark-number">{props.number}</span> <strong>{markWords[mark.kind]}</strong>,{" "}
        {placeInWords(view.pattern, mark.box)}, {millimetres(mark.box)}
        {mark.depthMm !== null && `, ${mark.depthMm} mm deep`}
        {mark.seenFromM !== null && `, seen from ${mark.seenFromM} m`}
        {mark.contrastDE00 !== null && `; stands out from the timber by ΔE00 ${figure(mark.contrastDE00, null)}`}
      </p>
      {mark.note && <p>{mark.note}</p>}
      <p>
        <Icon name={verdictIcons[judgement.verdict]} /> {judgement.why}
      </p>
      <p class="quiet">
        Recorded by {mark.by}
        {mark.foundBy === "photo" && ", proposed by the photo"}
      </p>
      <button
        type="button"
        onClick={() => void undoable(delivery, "withdrawMark", { delivery, mark: mark.id }, {}, "Mark withdrawn.")}
      >
        Withdraw mark {props.number}
      </button>
    </li>
  );
};
