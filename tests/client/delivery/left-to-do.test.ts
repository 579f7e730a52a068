import { expect, test } from "vitest";
import { leftToDo } from "../../../client/delivery/left-to-do.ts";
import { overview, returnsView as returns } from "../support/brannoch-quay.ts";

const done = {
  ...overview,
  lines: overview.lines.map((line) => ({ ...line, counted: line.ordered })),
  leaves: overview.leaves.map((leaf) => ({
    ...leaf,
    unwrapped: true,
    faces: { A: "measured" as const, B: "measured" as const },
    outcome: "accept" as const,
  })),
};
const [first] = done.leaves;
if (!first) throw new Error("no leaf");

test("nothing waits once all is counted, unwrapped, measured, decided and recorded", () => {
  expect(leftToDo(done, { ...returns, toReturn: [], toAccept: [] })).toEqual([]);
});

test("what waits is counted, named, and leads to where it is done", () => {
  const leaves = [
    { ...first, unwrapped: false, outcome: "undecided" as const },
    ...done.leaves.slice(1, 2).map((leaf) => ({ ...leaf, outcome: "hold" as const })),
    ...done.leaves.slice(2),
  ];
  const says = leftToDo({ ...done, leaves }, { ...returns, toReturn: [first], toAccept: done.leaves });
  expect(says.map((one) => one.says)).toEqual([
    "1 leaf to unwrap",
    "1 leaf to decide",
    "1 leaf held, to be settled",
    "1 return without a record",
    `${done.leaves.length} accepted leaves without a record`,
  ]);
  expect(says[0]).toMatchObject({ which: first.code, href: `/d/${done.id}/unwrap?show=wrapped` });
  expect(says.at(-1)?.which).toBe(
    `${done.leaves
      .slice(0, 5)
      .map(({ code }) => code)
      .join(", ")} and ${done.leaves.length - 5} more`,
  );
});

test("a line without a count is named", () => {
  const lines = done.lines.map((line, index) => (index === 0 ? { ...line, counted: null } : line));
  expect(leftToDo({ ...done, lines }, null)).toEqual([
    { says: "1 line to count", which: lines[0]?.line, href: "#lines" },
  ]);
});
