// biome-ignore-all lint/a11y/noRedundantRoles: on a phone the rows are laid out as cards, and without its roles the table would no longer be read out as one
import { useState } from "preact/hooks";
import type { LeafSummary, LineBalance } from "../../server/contract/views.ts";
import { useChange } from "../change.ts";
import { Icon } from "../icon.tsx";

const columns = [
  ["ordered", "Ordered"],
  ["onNote", "On the note"],
  ["accepted", "Accepted"],
  ["allowance", "With allow\u00adance"],
  ["held", "Held"],
  ["returned", "Returned"],
  ["wrong", "Wrong"],
  ["short", "Short"],
  ["over", "Over"],
  ["undecided", "Undecided"],
] as const;

/** Before they are unwrapped the leaves of a counted line can be named, so that their labels are printed. */
const NameLeaves = (props: { delivery: string; line: LineBalance; missing: number }) => {
  const { delivery, line, missing } = props;
  const { undoable } = useChange();
  return (
    <tr role="row" class="note-row">
      <td role="cell" colSpan={columns.length + 2}>
        <button
          type="button"
          onClick={() =>
            void undoable(
              delivery,
              "addLeavesOfLine",
              { delivery, line: line.line },
              {},
              `${missing} ${missing === 1 ? "leaf" : "leaves"} of ${line.line} made. Print the labels under Unwrap.`,
            )
          }
        >
          Make {missing === 1 ? "the leaf" : `the ${missing} leaves`} of {line.line}, so that labels can be printed
        </button>
      </td>
    </tr>
  );
};

const Counted = (props: { delivery: string; seq: number; line: LineBalance }) => {
  const { delivery, line } = props;
  const { undoable } = useChange();
  const [typed, type] = useState<string | null>(null);
  const enter = async (text: string) => {
    const counted = text.trim() === "" ? null : Number(text);
    if (counted !== line.counted && (counted === null || Number.isInteger(counted)))
      await undoable(
        delivery,
        "countLine",
        { delivery, line: line.line },
        { seen: props.seq, counted },
        `${line.line}: ${counted ?? "not"} counted.`,
      );
    type(null);
  };
  return (
    <input
      class="count"
      type="number"
      min={0}
      max={5000}
      inputMode="numeric"
      aria-label={`Counted of ${line.line}, ${line.item}`}
      value={typed ?? line.counted ?? ""}
      onInput={(event) => type(event.currentTarget.value)}
      onChange={(event) => void enter(event.currentTarget.value)}
    />
  );
};

/** Line by line: what was ordered, noted, counted, and what became of it. Totals can agree while lines do not. */
export const LinesTable = (props: {
  delivery: string;
  seq: number;
  lines: readonly LineBalance[];
  leaves: readonly LeafSummary[];
}) => {
  const sum = (key: (typeof columns)[number][0] | "counted") =>
    props.lines.reduce((total, line) => total + (line[key] ?? 0), 0);
  const missingOf = ({ line, counted }: LineBalance) =>
    (counted ?? 0) - props.leaves.filter((leaf) => leaf.line === line).length;
  return (
    <table class="lines" role="table">
      <thead role="rowgroup">
        <tr role="row">
          <th role="columnheader" scope="col">
            Line
          </th>
          <th role="columnheader" scope="col">
            Counted
          </th>
          {columns.map(([key, says]) => (
            <th key={key} role="columnheader" scope="col">
              {says}
            </th>
          ))}
        </tr>
      </thead>
      <tbody role="rowgroup">
        {props.lines.map((line) => (
          <>
            <tr key={line.line} role="row">
              <th role="rowheader" scope="row">
                <strong>{line.line}</strong> {line.item}
              </th>
              <td role="cell" data-says="Counted">
                <Counted delivery={props.delivery} seq={props.seq} line={line} />
              </td>
              {columns.map(([key, says]) => (
                <td key={key} role="cell" data-says={says} class={line[key] === 0 ? "nought" : undefined}>
                  {line[key]}
                </td>
              ))}
            </tr>
            {missingOf(line) > 0 && (
              <NameLeaves key={`${line.line} leaves`} delivery={props.delivery} line={line} missing={missingOf(line)} />
            )}
            {line.noteSentence && (
              <tr key={`${line.line} note`} role="row" class="note-row">
                <td role="cell" colSpan={columns.length + 2}>
                  <Icon name="warning" /> For the note: <q>{line.noteSentence}</q>
                </td>
              </tr>
            )}
          </>
        ))}
      </tbody>
      <tfoot role="rowgroup">
        <tr role="row">
          <th role="rowheader" scope="row">
            All lines
          </th>
          <td role="cell" data-says="Counted">
            {sum("counted")}
          </td>
          {columns.map(([key, says]) => (
            <td key={key} role="cell" data-says={says} class={sum(key) === 0 ? "nought" : undefined}>
              {sum(key)}
            </td>
          ))}
        </tr>
      </tfoot>
    </table>
  );
};
