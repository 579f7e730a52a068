import { useState } from "preact/hooks";
import type { Decision, Outcome } from "../../server/contract/leaf.ts";
import type { LeafView } from "../../server/contract/views.ts";
import { useChange } from "../change.ts";
import { Choice, NumberField, Pick, TextField } from "../fields.tsx";
import { Icon } from "../icon.tsx";
import { dateAndTime } from "../times.ts";
import { outcomeWords, partyWords, typedNumber } from "../words.ts";

const outcomes: readonly (readonly [Outcome, string])[] = [
  ["accept", "Accept"],
  ["accept-with-allowance", "Accept with allowance"],
  ["hold", "Hold"],
  ["return", "Return"],
];
const parties: readonly (readonly [NonNullable<Decision["party"]> | "", string])[] = [
  ["", "Not said"],
  ...(Object.entries(partyWords) as [NonNullable<Decision["party"]>, string][]),
];
const asksFor = [
  ["replace", "a replacement"],
  ["credit", "a credit"],
  ["repair", "a repair"],
] as const;

const Decided = (props: { delivery: string; view: LeafView; decision: Decision; timeZone: string }) => {
  const { delivery, view, decision } = props;
  const leaf = view.leaf.code;
  const { undoable } = useChange();
  return (
    <div class="plate decided">
      <p>
        <Icon name={decision.outcome === "return" ? "shut" : decision.outcome === "hold" ? "held" : "good"} />{" "}
        <strong>{outcomeWords[decision.outcome]}</strong>
        {decision.allowance !== null && `, ${decision.allowance} off the price`}
        {decision.asks && `, asking for ${asksFor.find(([value]) => value === decision.asks)?.[1]}`}
      </p>
      {decision.reason && <p>{decision.reason}</p>}
      <p class="quiet">
        {decision.by}, {dateAndTime(decision.at, props.timeZone)}
        {decision.party && `; cause in our opinion: ${partyWords[decision.party].toLowerCase()}`}
      </p>
      <button
        type="button"
        onClick={() =>
          void undoable(
            delivery,
            "decideLeaf",
            { delivery, leaf },
            { seen: view.seq, decision: null },
            `${leaf}: decision taken back.`,
          )
        }
      >
        <Icon name="undo" /> Take the decision back
      </button>
    </div>
  );
};

/** What becomes of the leaf, with the reason. What cannot be decided now says why not. */
export const DecisionForm = (props: { delivery: string; view: LeafView; timeZone: string }) => {
  const { delivery, view } = props;
  const { undoable } = useChange();
  const { code, decision } = view.leaf;
  const [outcome, choose] = useState<Outcome | null>(null);
  const [reason, setReason] = useState("");
  const [allowance, setAllowance] = useState("");
  const [party, setParty] = useState<Decision["party"] | "">("");
  const [asks, setAsks] = useState<NonNullable<Decision["asks"]>>("replace");
  if (decision) return <Decided delivery={delivery} view={view} decision={decision} timeZone={props.timeZone} />;

  const amount = typedNumber(allowance);
  const ready =
    outcome !== null &&
    (outcome === "accept" || reason.trim() !== "") &&
    (outcome !== "accept-with-allowance" || (amount !== null && !Number.isNaN(amount)));
  const decide = async () => {
    if (!outcome || !ready) return;
    const taken = {
      outcome,
      reason: reason.trim(),
      allowance: outcome === "accept-with-allowance" ? amount : null,
      party: party || null,
      asks: outcome === "return" ? asks : null,
    };
    const says = `${code}: ${outcomeWords[outcome].toLowerCase()}.`;
    await undoable(delivery, "decideLeaf", { delivery, leaf: code }, { seen: view.seq, decision: taken }, says);
  };
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        void decide();
      }}
    >
      <fieldset class="choice outcomes">
        <legend>What becomes of it</legend>
        {outcomes.map(([value, says]) => {
          const whyNot = view.whyNot[value];
          return (
            <label key={value} class={whyNot ? "barred" : undefined}>
              <input
                type="radio"
                name="outcome"
                checked={outcome === value}
                disabled={whyNot !== null}
                onChange={() => choose(value)}
              />
              <span>
                {says}
                {whyNot && <small>Not now: {whyNot}</small>}
              </span>
            </label>
          );
        })}
      </fieldset>
      {outcome && (
        <>
          <div class="fields">
            <TextField label="Reason" value={reason} onInput={setReason} required={outcome !== "accept"} />
            {outcome === "accept-with-allowance" && (
              <NumberField label="Off the price" unit="" text={allowance} onInput={setAllowance} required />
            )}
            {outcome !== "accept" && (
              <Pick label="Cause, in your opinion" of={parties} value={party ?? ""} onChoose={setParty} />
            )}
          </div>
          {outcome === "return" && <Choice label="Ask for" of={asksFor} value={asks} onChoose={setAsks} />}
        </>
      )}
      <button type="submit" class="main" disabled={!ready}>
        Record the decision
      </button>
      {!outcome && <p class="quiet">Choose one first.</p>}
      {outcome && !ready && (
        <p class="quiet">
          {outcome === "accept-with-allowance" ? "Give the reason and the amount." : "Give the reason first."}
        </p>
      )}
    </form>
  );
};
