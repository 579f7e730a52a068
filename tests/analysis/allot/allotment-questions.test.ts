import { expect, test } from "vitest";
import { allot } from "../../../analysis/allot/allot.ts";
import { answerQuestion } from "../../../analysis/allot/allotment-questions.ts";
import { wishfulJob } from "./small-jobs.ts";

test("every question gets an answer of its own kind, and one that keeps its meaning when sent as JSON", () => {
  const problem = wishfulJob(2, 4);
  const plan = allot(problem);
  if (plan.kind !== "plan") throw new Error(plan.kind);
  const before = plan.places;
  const answers = [
    answerQuestion({ kind: "returns", problem, tolerance: 3 }),
    answerQuestion({ kind: "moves", problem, before, loss: 0 }),
    answerQuestion({ kind: "what-if", problem, before, wish: { locks: [], bans: [] }, loss: 0 }),
    answerQuestion({ kind: "lift", problem }),
    answerQuestion({ kind: "sureness", problem, places: before, tolerance: 3 }),
  ];
  expect(answers.map(({ kind }) => kind)).toEqual(["returns", "moves", "what-if", "lift", "sureness"]);
  for (const answer of answers.slice(-2)) expect(JSON.parse(JSON.stringify(answer))).toEqual(answer);
});
