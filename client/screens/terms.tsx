import { useState } from "preact/hooks";
import type { SupplierTerms } from "../../server/contract/terms.ts";
import { useChange } from "../change.ts";
import { draftOf, termsOf } from "../delivery/terms-draft.ts";
import { TermsFields } from "../delivery/terms-fields.tsx";
import { Only } from "../may.tsx";
import { Shown, useView } from "../view.tsx";

const TermsForm = (props: { delivery: string; terms: SupplierTerms; seq: number }) => {
  const { delivery } = props;
  const { undoable } = useChange();
  const [begunAt, begin] = useState<number | null>(props.seq);
  const [draft, setDraft] = useState(() => draftOf(props.terms));
  const read = termsOf(draft);
  const keep = async (terms: SupplierTerms) => {
    await undoable(delivery, "setTerms", { delivery }, { seen: begunAt ?? props.seq, terms }, "Terms kept.");
    begin(null); // what stands now was shown, either as kept or beside what was set aside
  };
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        if (read.kind === "terms") void keep(read.terms);
      }}
    >
      <TermsFields draft={draft} onChange={setDraft} />
      <Only may="setTerms" otherwise="Only the foreman changes them.">
        <button type="submit" class="main" disabled={read.kind === "missing"}>
          Keep these terms
        </button>
      </Only>
      {read.kind === "missing" && <p>Missing: {read.label}.</p>}
    </form>
  );
};

/** What was agreed with the supplier, to read and to change. */
export const TermsScreen = (props: { delivery: string }) => {
  const view = useView("overview", { delivery: props.delivery });
  return (
    <>
      <h1>Supplier's terms</h1>
      <Shown view={view}>{({ id, terms, seq }) => <TermsForm delivery={id} terms={terms} seq={seq} />}</Shown>
    </>
  );
};
