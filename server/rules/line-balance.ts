import type { Delivery, OrderLine } from "../contract/delivery.ts";
import type { Leaf, Outcome } from "../contract/leaf.ts";
import type { LineBalance } from "../contract/views.ts";

const outcomes = (leaves: readonly Leaf[], outcome: Outcome): number =>
  leaves.filter((leaf) => leaf.identity === "as-ordered" && leaf.decision?.outcome === outcome).length;

const leafCount = (count: number): string => (count === 1 ? "1 leaf" : `${count} leaves`);

/** What to write on the delivery note, or null when note, order and count agree and nothing on the line is wrong. */
const noteSentence = (line: OrderLine, wrong: readonly Leaf[]): string | null => {
  if (line.counted === null) return null;
  const parts = [
    line.counted < line.onNote && `${line.counted} received, ${line.onNote - line.counted} short`,
    line.counted > line.onNote && `${line.counted} received, ${line.counted - line.onNote} over`,
    line.onNote !== line.ordered && `ordered ${line.ordered}`,
    wrong.length > 0 && `not as ordered: ${wrong.map(({ code }) => code).join(", ")}`,
  ].filter((part) => part !== false);
  return parts.length === 0
    ? null
    : `Line ${line.id}, ${line.item}: ${leafCount(line.onNote)} on the note, ${parts.join("; ")}.`;
};

/**
 * The numbers of one order line, counted in leaves. Pieces beyond the order are over, whoever noticed it first: the count
 * or the person who named a leaf so. A leaf that is not as ordered is wrong, whatever was decided about it.
 * `balanced` says that the line was counted and that both sums hold:
 * ordered = accepted + allowance + held + returned + wrong + short + undecided,
 * counted = accepted + allowance + held + returned + wrong + over + undecided.
 * Common practice, no source.
 */
export const lineBalance = (line: OrderLine, leaves: readonly Leaf[]): LineBalance => {
  const own = leaves.filter((leaf) => leaf.line === line.id);
  const wrong = own.filter(({ identity }) => identity === "wrong");
  const pieces = line.counted ?? line.ordered;
  const over = Math.max(own.filter(({ identity }) => identity === "over").length, pieces - line.ordered, 0);
  const accepted = outcomes(own, "accept");
  const allowance = outcomes(own, "accept-with-allowance");
  const held = outcomes(own, "hold");
  const returned = outcomes(own, "return");
  const undecided = pieces - over - accepted - allowance - held - returned - wrong.length;
  const short = line.ordered - (pieces - over);
  return {
    line: line.id,
    item: line.item,
    price: line.price,
    ordered: line.ordered,
    onNote: line.onNote,
    counted: line.counted,
    accepted,
    allowance,
    held,
    returned,
    wrong: wrong.length,
    short,
    over,
    undecided: Math.max(0, undecided),
    balanced: line.counted !== null && undecided >= 0 && short >= 0,
    noteSentence: noteSentence(line, wrong),
  };
};

/** The balance of every line of a delivery, in the order of the lines. */
export const lineBalances = ({ lines, leaves }: Delivery): LineBalance[] =>
  lines.map((line) => lineBalance(line, leaves));
