import { useId, useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import type { Reply } from "../../server/contract/calls.ts";
import { call } from "../api.ts";
import { useChange } from "../change.ts";
import { draftOf, emptyTerms, termsOf } from "../delivery/terms-draft.ts";
import { TermsFields } from "../delivery/terms-fields.tsx";
import { MomentField, Pick, TextField } from "../fields.tsx";
import { nowWithOffset } from "../times.ts";
import { useView } from "../view.tsx";

const jobFields = [
  ["name", "Job"],
  ["site", "Site"],
  ["fitter", "Fitter"],
  ["supplier", "Supplier"],
  ["haulier", "Haulier"],
  ["orderNumber", "Order number"],
  ["noteNumber", "Delivery note number"],
  ["timeZone", "Time zone"],
  ["currency", "Currency"],
] as const;
type JobDraft = Readonly<Record<(typeof jobFields)[number][0], string>>;

const emptyJob = (): JobDraft => ({
  name: "",
  site: "",
  fitter: "",
  supplier: "",
  haulier: "",
  orderNumber: "",
  noteNumber: "",
  timeZone: Intl.DateTimeFormat().resolvedOptions().timeZone,
  currency: "GBP",
});

const CsvFile = (props: { label: string; columns: string; onRead: (text: string) => void }) => {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>{props.label}</label>
      <input
        id={id}
        type="file"
        accept=".csv,text/csv"
        required
        aria-describedby={`${id}-columns`}
        onChange={(event) => {
          const [file] = event.currentTarget.files ?? [];
          if (file) void file.text().then(props.onRead);
        }}
      />
      <small id={`${id}-columns`} class="quiet">
        Columns: {props.columns}
      </small>
    </div>
  );
};

/** Terms of a delivery already here, to start from. */
const TermsFrom = (props: {
  deliveries: Reply<"listDeliveries">;
  onTake: (terms: Reply<"overview">["terms"]) => void;
}) => (
  <Pick
    label="Take the terms over from"
    of={[
      ["", "none: type them in"],
      ...props.deliveries.map(({ id, name, supplier }): [string, string] => [id, `${supplier}, ${name}`]),
    ]}
    value=""
    onChoose={(delivery) => {
      if (delivery === "") return;
      void call("overview", { delivery }).then((outcome) => {
        if (outcome.kind === "ok") props.onTake(outcome.value.terms);
      });
    }}
  />
);

/** A new delivery: the job, the supplier's terms, the order and the door schedule as two CSV files. */
export const NewDelivery = () => {
  const { route } = useLocation();
  const { change } = useChange();
  const deliveries = useView("listDeliveries", {});
  const [job, setJob] = useState(emptyJob);
  const [deliveredAt, setDeliveredAt] = useState(() => nowWithOffset(new Date()).slice(0, 16));
  const [terms, setTerms] = useState(emptyTerms);
  const [order, setOrder] = useState("");
  const [schedule, setSchedule] = useState("");
  const read = termsOf(terms);
  const create = async () => {
    if (read.kind !== "terms") return;
    const body = {
      job: { ...job, deliveredAt: nowWithOffset(new Date(deliveredAt)) },
      terms: read.terms,
      order,
      schedule,
    };
    const reply = await change("createDelivery", {}, body, "Delivery opened.");
    if (reply) route(`/d/${reply.id}`);
  };
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        void create();
      }}
    >
      <h1>New delivery</h1>
      <fieldset>
        <legend>The job</legend>
        <div class="fields">
          {jobFields.map(([key, label]) => (
            <TextField
              key={key}
              label={label}
              value={job[key]}
              onInput={(value) => setJob({ ...job, [key]: value })}
              required
            />
          ))}
          <MomentField label="Delivered" type="datetime-local" value={deliveredAt} onInput={setDeliveredAt} />
        </div>
      </fieldset>
      <fieldset>
        <legend>What was ordered, and where it goes</legend>
        <CsvFile
          label="Order lines (CSV)"
          columns="line, item, code, price, quantity, width_mm, height_mm, thickness_mm, pattern, veneer, fire_rating"
          onRead={setOrder}
        />
        <CsvFile
          label="Door schedule (CSV)"
          columns="opening, leaves, width_mm, height_mm, thickness_mm, pattern, veneer, fire_rating, side_a_space, side_b_space, hinge, note"
          onRead={setSchedule}
        />
      </fieldset>
      <h2>The supplier's terms</h2>
      {deliveries.kind === "ready" && deliveries.value.length > 0 && (
        <TermsFrom deliveries={deliveries.value} onTake={(taken) => setTerms(draftOf(taken))} />
      )}
      <TermsFields draft={terms} onChange={setTerms} />
      <button type="submit" class="main" disabled={read.kind === "missing"}>
        Open this delivery
      </button>
      {read.kind === "missing" && <p>Missing: {read.label}.</p>}
    </form>
  );
};
