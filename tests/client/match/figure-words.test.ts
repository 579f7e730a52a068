import { expect, test } from "vitest";
import { bestWords, planningWords } from "../../../client/match/figure-words.ts";

const plan = { worst: 3.12, mean: 1, spacesOver: 1 };

test("a plan is proven best, so much above the best, or nothing is known of the best", () => {
  expect(bestWords({ plan, bound: 3.12, proven: true })).toBe("Proven best: no plan has a smaller worst pair.");
  expect(bestWords({ plan, bound: 2.9, proven: false })).toBe(
    "At most 0.2 above the best: no plan can bring the worst pair below 2.9.",
  );
  expect(bestWords({ plan, bound: 3.11, proven: false }), "never 0.0 above the best without a proof").toContain(
    "At most 0.1 above",
  );
  expect(bestWords({ plan, bound: 0, proven: false })).toBe("How small the worst pair could be is not known.");
});

test("while planning, the best so far and what no plan can better", () => {
  expect(planningWords({ worst: 3.12, bound: 2.9, seconds: 4 })).toBe("Worst so far 3.1, cannot be below 2.9.");
  expect(planningWords({ worst: 3.12, bound: 0, seconds: 0 })).toContain("is not known yet");
  expect(planningWords({ worst: 3.12, bound: 3.12, seconds: 9 })).toContain("it cannot be smaller");
});
