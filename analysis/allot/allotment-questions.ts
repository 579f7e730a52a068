import type { AllotmentProblem } from "./allotment.ts";
import { type Before, fewestMoves, type MovesOutcome } from "./fewest-moves.ts";
import { fewestReturns, type ReturnsOutcome } from "./fewest-returns.ts";
import { type LateLeaf, lateLeaf } from "./late-leaf.ts";
import { type WhatIf, type Wish, whatIf } from "./what-if.ts";
import { type WhatWouldLift, whatWouldLift } from "./what-would-lift.ts";
import { type SurenessOutcome, withinUncertainty } from "./within-uncertainty.ts";

/** What a joiner asks about an allotment, as plain data that can be sent to another process; differences are ΔE00. */
export type AllotmentQuestion =
  | { readonly kind: "returns"; readonly problem: AllotmentProblem; readonly tolerance: number }
  | { readonly kind: "late"; readonly problem: AllotmentProblem; readonly leaf: string }
  | { readonly kind: "moves"; readonly problem: AllotmentProblem; readonly before: Before; readonly loss: number }
  | {
      readonly kind: "what-if";
      readonly problem: AllotmentProblem;
      readonly before: Before;
      readonly wish: Wish;
      readonly loss: number;
    }
  | { readonly kind: "lift"; readonly problem: AllotmentProblem }
  | {
      readonly kind: "sureness";
      readonly problem: AllotmentProblem;
      readonly places: Before;
      readonly tolerance: number;
      readonly repeatU95?: number;
    };

export interface AllotmentAnswers {
  readonly returns: ReturnsOutcome;
  readonly late: LateLeaf;
  readonly moves: MovesOutcome;
  readonly "what-if": WhatIf;
  readonly lift: WhatWouldLift;
  readonly sureness: SurenessOutcome;
}

/** Works out the answer; seconds at 60 leaves. */
export const answerQuestion = (question: AllotmentQuestion): AllotmentAnswers[AllotmentQuestion["kind"]] => {
  switch (question.kind) {
    case "returns":
      return fewestReturns(question.problem, question.tolerance);
    case "late":
      return lateLeaf(question.problem, question.leaf);
    case "moves":
      return fewestMoves(question.problem, question.before, question.loss);
    case "what-if":
      return whatIf(question.problem, question.before, question.wish, question.loss);
    case "lift":
      return whatWouldLift(question.problem);
    case "sureness":
      return withinUncertainty(question.problem, question.places, question.tolerance, question.repeatU95);
  }
};
