import type { AllotmentProblem } from "../../analysis/allot/allotment.ts";
import type { Allotments } from "../site.ts";

/** What the server tells the process that plans. */
export type PlanningOrder = { readonly kind: "plan"; readonly problem: AllotmentProblem } | { readonly kind: "stop" };

/** What that process tells the server: how far it is, and at the end what came out. */
export type PlanningMessage =
  | { readonly kind: "progress"; readonly worst: number; readonly bound: number }
  | ({ readonly kind: "made" } & Allotments)
  | { readonly kind: "failed"; readonly error: string };
