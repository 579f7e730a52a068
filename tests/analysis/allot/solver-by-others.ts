import { createRequire } from "node:module";

/** Its types are those of its CommonJS build. */
type Highs = typeof import("highs", { with: { "resolution-mode": "require" }});
const { default: load } = createRequire(import.meta.url)("highs") as Highs;
const highs = await load();

/** How a program in LP format ended, and the least value if one was proven. */
export interface Solved {
  readonly ended: "solved" | "no solution" | "out of time";
  readonly least: number;
}

/**
 * Solves it with HiGHS, to the last digit it can tell. `seconds` by the clock at most. Without its presolve on request: that of 1.15.3 ends
 * some programs of 0s and 1s that have no solution with an error.
 */
export const solveByOthers = (
  program: string,
  {
    seconds = Number.POSITIVE_INFINITY,
    presolve = true,
  }: { readonly seconds?: number; readonly presolve?: boolean } = {},
): Solved => {
  const { Status, ObjectiveValue } = highs.solve(program, {
    output_flag: false,
    presolve: presolve ? "choose" : "off",
    time_limit: seconds,
    mip_rel_gap: 0,
  });
  if (Status === "Optimal") return { ended: "solved", least: ObjectiveValue };
  if (Status === "Infeasible") return { ended: "no solution", least: Number.NaN };
  if (Status === "Time limit reached") return { ended: "out of time", least: Number.NaN };
  throw new Error(`HiGHS ended with: ${Status}`);
};
