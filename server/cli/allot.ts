import { readFile } from "node:fs/promises";
import { text } from "node:stream/consumers";
import { allot } from "../../analysis/allot/allot.ts";
import type { Allotment } from "../../analysis/allot/allotment.ts";
import { Refusal } from "../problem.ts";
import { allotmentFile } from "./allotment-file.ts";
import { columns, say } from "./say.ts";

const contentOf = async (file: string): Promise<string> => {
  try {
    return await (file === "-" ? text(process.stdin) : readFile(file, "utf8"));
  } catch (error) {
    throw new Refusal(`${file} cannot be read: ${error instanceof Error ? error.message : "unknown cause"}`);
  }
};

const readProblem = async (file: string) => {
  const content = await contentOf(file);
  let json: unknown;
  try {
    json = JSON.parse(content);
  } catch (error) {
    throw new Refusal(`${file} is not JSON: ${error instanceof Error ? error.message : "cannot be read"}`);
  }
  const read = allotmentFile.safeParse(json);
  if (read.success) return read.data;
  const faults = read.error.issues.map(({ path, message }) => ({ at: path.join("."), says: message }));
  throw new Refusal(`${file} is not an allotment to solve.`, 422, faults);
};

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
  const result = allot(await readProblem(file));
  if (result.kind === "refused") throw new Refusal(`The allotment cannot be planned: ${result.why}.`);
  if (result.kind === "impossible")
    throw new Refusal(
      "There is no plan for all openings.",
      409,
      result.openings.map(({ opening, lacks }) => ({ at: opening, says: lacks })),
    );
  say(json, result, () => inWords(result));
};
