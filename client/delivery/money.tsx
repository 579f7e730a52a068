import type { Overview } from "../../server/contract/views.ts";
import { money as inMoney } from "../words.ts";

/** What to pay of the order, and why not the rest. */
export const Money = (props: { money: Overview["money"]; currency: string }) => {
  const { total, pay, allowance, held, withheld, undecided } = props.money;
  const rows = [
    ["Pay", pay],
    ["Allowance", allowance],
    ["Held", held],
    ["Withheld: returned, wrong, short", withheld],
    ["Not decided yet", undecided],
    ["Whole order", total],
  ] as const;
  return (
    <table class="plain">
      <caption class="hidden">Money of the order</caption>
      <tbody>
        {rows.map(([says, amount]) => (
          <tr key={says} class={says === "Whole order" ? "sum" : undefined}>
            <th scope="row">{says}</th>
            <td class="figure">{inMoney(amount, props.currency)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
};
