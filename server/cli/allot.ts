import { allot } from "../../analysis/allot/allot.ts";
import type { Allotment } from "../../analysis/allot/allotment.ts";
import { plannedOr } from "../use-cases/planned-or.ts";
import { readAllotment } from "./read-allotment.ts";
import { columns, say } from "./say.ts";

const inWords = (plan: Extract<Allotment, { kind: "plan" }>): string => {
  const rows = plan.places.map(({ opening, place, leaf, turned, faceTo }) => [
    place === 0 ? opening : `${opening} right`,
    leaf,
    turned ? "turned" : "",
    `A to ${faceTo.A ?? "-"}`,
    `B to ${faceTo.B ?? "-"}`,
  ]);
  const best = plan.proven ? "proven best" : `at best ${plan.bound.toFixed(2)}`;
  return [
    columns(rows),
    `Largest difference seen in one space: ΔE00 ${plan.worst.toFixed(2)} (${best}).`,
    ...(plan.spare.length > 0 ? [`Spare: ${plan.spare.join(", ")}.`] : []),
    ...(plan.empty.length > 0 ? [`Empty: ${plan.empty.map(({ opening }) => opening).join(", ")}.`] : []),
  ].join("\n");
};

/** Solves an allotment that stands in a file, or comes in by standard input. */
export const allotFile = async (file: string, { json }: { readonly json: boolean }): Promise<void> => {
  const plan = plannedOr(allot(await readAllotment(file)));
  say(json, plan, () => inWords(plan));
};
