import { useMemo, useState } from "preact/hooks";
import { ulid } from "ulid";
import type { LeafSummary } from "../../server/contract/views.ts";
import { useChange } from "../change.ts";
import { Icon } from "../icon.tsx";
import { Only } from "../may.tsx";

/** Chooses leaves and issues one record of them. Asked again after a lost answer, it is the same record. */
const ChooseLeaves = (props: { delivery: string; kind: "accept" | "return"; leaves: readonly LeafSummary[] }) => {
  const { delivery, kind, leaves } = props;
  const { change } = useChange();
  const [left, leaveOut] = useState<ReadonlySet<string>>(new Set());
  const [issuing, issue] = useState(false);
  const chosen = leaves.filter(({ code }) => !left.has(code)).map(({ code }) => code);
  const requestId = useMemo(() => ulid(), [chosen.join()]);
  const word = kind === "return" ? "return" : "acceptance";
  const toggle = (code: string) => {
    const next = new Set(left);
    if (!next.delete(code)) next.add(code);
    leaveOut(next);
  };
  const send = async () => {
    issue(true);
    await change(
      "issueRecord",
      { delivery },
      { kind, leaves: chosen, revises: null, requestId },
      `Record of ${word} issued. It will not change any more.`,
    );
    issue(false);
  };
  return (
    <>
      <fieldset class="choice leaves-choice">
        <legend>Leaves for the record</legend>
        {leaves.map(({ code, item, marks }) => (
          <label key={code}>
            <input type="checkbox" checked={!left.has(code)} onChange={() => toggle(code)} />
            <span>
              <strong>{code}</strong> {item}
              {marks > 0 && `, ${marks} ${marks === 1 ? "mark" : "marks"}`}
            </span>
          </label>
        ))}
      </fieldset>
      <button type="button" class="main" disabled={issuing || chosen.length === 0} onClick={() => void send()}>
        <Icon name="record" /> Issue the record of {word} for {chosen.length} {chosen.length === 1 ? "leaf" : "leaves"}
      </button>
      <p role="status">
        {issuing ? "Writing the record with its pictures …" : chosen.length === 0 && "Choose at least one leaf."}
      </p>
    </>
  );
};

/** Leaves that wait for a record, and for the foreman the choice among them. */
export const IssueRecord = (props: { delivery: string; kind: "accept" | "return"; leaves: readonly LeafSummary[] }) => {
  const codes = props.leaves.map(({ code }) => code).join(", ");
  if (codes === "") return <p>None without a record.</p>;
  return (
    <Only may="issueRecord" otherwise={`${codes}. The foreman issues the record.`}>
      <ChooseLeaves {...props} />
    </Only>
  );
};
