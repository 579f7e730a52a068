import { useEffect } from "preact/hooks";
import { useLocation } from "preact-iso";
import type { LeafSummary } from "../../server/contract/views.ts";
import { address } from "../api.ts";
import { useDesk } from "../desk.ts";
import { FileLink } from "../file-link.tsx";
import { Icon, type IconName } from "../icon.tsx";
import { keepLeavesAhead } from "../keep-ahead.ts";
import { AddLeaf } from "../unwrap/add-leaf.tsx";
import { asListing, belongs, inOrder, type Listing, listings } from "../unwrap/leaf-list.ts";
import { LineUp } from "../unwrap/line-up.tsx";
import { Shown, useView } from "../view.tsx";
import { faceStateWords, outcomeWords } from "../words.ts";

const outcomeIcons: Readonly<Record<LeafSummary["outcome"], IconName>> = {
  undecided: "unknown",
  accept: "good",
  "accept-with-allowance": "good",
  hold: "held",
  return: "shut",
};

const FaceState = (props: { says: string; state: LeafSummary["faces"]["A"] }) => (
  <span class={`face-state ${props.state}`}>
    {props.says} <Icon name={props.state === "measured" ? "good" : props.state === "retake" ? "warning" : "camera"} />{" "}
    {faceStateWords[props.state]}
  </span>
);

const LeafRow = (props: { delivery: string; leaf: LeafSummary }) => {
  const { leaf } = props;
  return (
    <a class="row leaf-row" href={`/d/${props.delivery}/unwrap/${leaf.code}`}>
      <strong class="leaf-code">{leaf.code}</strong>
      <span class="leaf-item">
        {leaf.item}
        {leaf.opening && ` → ${leaf.opening}`}
        {leaf.identity !== "as-ordered" && (leaf.identity === "wrong" ? ", wrong item" : ", over")}
      </span>
      <span class="leaf-outcome">
        {leaf.line === null ? (
          "hangs already"
        ) : !leaf.unwrapped ? (
          <>
            <Icon name="unwrap" /> to unwrap
          </>
        ) : (
          <>
            <Icon name={outcomeIcons[leaf.outcome]} /> {outcomeWords[leaf.outcome]}
          </>
        )}
        {leaf.marks > 0 && `, ${leaf.marks} ${leaf.marks === 1 ? "mark" : "marks"}`}
      </span>
      <span class="leaf-faces">
        {leaf.faces.A === leaf.faces.B ? (
          <FaceState says="A and B" state={leaf.faces.A} />
        ) : (
          <>
            <FaceState says="A" state={leaf.faces.A} />
            <FaceState says="B" state={leaf.faces.B} />
          </>
        )}
      </span>
    </a>
  );
};

/** All leaves with their state; one tap opens a leaf. */
export const Unwrap = (props: { delivery: string }) => {
  const { delivery } = props;
  const { query } = useLocation();
  const { kept } = useDesk();
  const listing = asListing(query.show);
  const view = useView("overview", { delivery });
  const codes = view.kind === "ready" && !view.lost ? view.value.leaves.map(({ code }) => code) : [];
  useEffect(() => {
    let here = true;
    void keepLeavesAhead(kept, delivery, codes, () => here);
    return () => {
      here = false;
    };
  }, [kept, delivery, codes.join()]);
  return (
    <Shown view={view}>
      {({ leaves, orderLines }) => {
        const shown = inOrder(leaves).filter((leaf) => belongs(leaf, listing));
        return (
          <>
            <div class="head">
              <h1>Unwrap</h1>
              <FileLink href={address("labelSheet", { delivery })}>Labels to print</FileLink>
            </div>
            <nav class="chips" aria-label="Which leaves">
              {(Object.keys(listings) as Listing[]).map((word) => (
                <a
                  key={word}
                  href={`/d/${delivery}/unwrap?show=${word}`}
                  aria-current={word === listing ? "true" : undefined}
                >
                  {listings[word]} {leaves.filter((leaf) => belongs(leaf, word)).length}
                </a>
              ))}
            </nav>
            <ul class="rows leaves">
              {shown.map((leaf) => (
                <li key={leaf.code}>
                  <LeafRow delivery={delivery} leaf={leaf} />
                </li>
              ))}
              {shown.length === 0 && (
                <li>{leaves.length === 0 ? "No leaf yet: add each one below, by the code on its label." : "None."}</li>
              )}
            </ul>
            <LineUp delivery={delivery} leaves={leaves.map(({ code }) => code)} />
            <AddLeaf delivery={delivery} lines={orderLines} leaves={leaves} />
          </>
        );
      }}
    </Shown>
  );
};
