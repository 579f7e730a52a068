import type { Delivery } from "../contract/delivery.ts";
import type { LineBalance, Overview } from "../contract/views.ts";

type Money = Overview["money"];

const cents = (amount: number): number => Math.round(amount * 100) / 100;

/**
 * What to pay now, in the job's currency: accepted leaves at their price, those with an allowance less it; held leaves are
 * held; returned, wrong and missing ones withheld; nothing for leaves over until it is agreed.
 * total = pay + allowance + held + withheld + undecided. Common practice, no source.
 */
export const moneyOf = (balances: readonly LineBalance[], leaves: Delivery["leaves"]): Money => {
  const sum = (count: (line: LineBalance) => number): number =>
    cents(balances.reduce((total, line) => total + line.price * count(line), 0));
  const allowance = cents(
    leaves
      .filter(({ identity, decision }) => identity === "as-ordered" && decision?.outcome === "accept-with-allowance")
      .reduce((total, { decision }) => total + (decision?.allowance ?? 0), 0),
  );
  return {
    total: sum(({ ordered }) => ordered),
    pay: cents(sum((line) => line.accepted + line.allowance) - allowance),
    allowance,
    held: sum(({ held }) => held),
    withheld: sum(({ returned, wrong, short }) => returned + wrong + short),
    undecided: sum(({ undecided }) => undecided),
  };
};
