import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { OrderLine } from "../../../server/contract/delivery.ts";
import type { Leaf } from "../../../server/contract/leaf.ts";
import { lineBalance } from "../../../server/rules/line-balance.ts";
import { moneyOf } from "../../../server/rules/money.ts";
import { aLeaf, aLine, decided } from "../../support/leaves.ts";

type Outcome = "accept" | "accept-with-allowance" | "hold" | "return";

const line = (id: string, price: number, ordered: number, counted: number | null): OrderLine =>
  aLine({ id, price, ordered, onNote: ordered, counted });

const leavesOf = (id: string, codes: string, outcome: Outcome, allowance: number | null = null): Leaf[] =>
  codes.split(" ").map((code) => aLeaf({ code, line: id, decision: decided(outcome, allowance) }));

/** The worked example of the invented clinic: totals agree, three lines do not. */
const lines = [
  line("L1", 412, 8, 8),
  line("L2", 399, 2, 2),
  line("L3", 286, 4, 4),
  line("L4", 248, 3, 2),
  line("L5", 364, 3, 4),
];
const leaves = [
  ...leavesOf("L1", "W01 W02 W04 W06 W08", "accept"),
  ...leavesOf("L1", "W05", "accept-with-allowance", 45),
  ...leavesOf("L1", "W03 W07", "return"),
  ...leavesOf("L2", "P1 P2", "return"),
  ...leavesOf("L3", "A01 A03", "accept"),
  ...leavesOf("L3", "A02", "hold"),
  aLeaf({ code: "A04", line: "L3", identity: "wrong", decision: decided("return") }),
  ...leavesOf("L4", "A05 A06", "accept"),
  ...leavesOf("L5", "S01 S03", "accept"),
  ...leavesOf("L5", "S02", "hold"),
  aLeaf({ code: "S04", line: "L5", identity: "over", decision: decided("hold") }),
];

describe("the worked example", () => {
  test.each([
    ["L1", [8, 8, 5, 1, 0, 2, 0, 0, 0], null],
    ["L2", [2, 2, 0, 0, 0, 2, 0, 0, 0], null],
    ["L3", [4, 4, 2, 0, 1, 0, 1, 0, 0], "4 leaves on the note, not as ordered: A04"],
    ["L4", [3, 2, 2, 0, 0, 0, 0, 1, 0], "3 leaves on the note, 2 received, 1 short"],
    ["L5", [3, 4, 2, 0, 1, 0, 0, 0, 1], "3 leaves on the note, 4 received, 1 over"],
  ])("line %s", (id, numbers, sentence) => {
    const found = lines.find((one) => one.id === id);
    const balance = lineBalance(found ?? aLine({}), leaves);
    const { ordered, counted, accepted, allowance, held, returned, wrong, short, over } = balance;
    expect([ordered, counted, accepted, allowance, held, returned, wrong, short, over]).toEqual(numbers);
    expect(balance).toMatchObject({ balanced: true, undecided: 0 });
    if (sentence === null) expect(balance.noteSentence).toBeNull();
    else expect(balance.noteSentence).toContain(sentence);
  });

  test("pay 4,223, held 650, withheld 2,156, allowance 45, of 7,074", () => {
    const balances = lines.map((one) => lineBalance(one, leaves));
    expect(moneyOf(balances, leaves)).toEqual({
      total: 7074,
      pay: 4223,
      allowance: 45,
      held: 650,
      withheld: 2156,
      undecided: 0,
    });
  });
});

const someLeaf = fc.record({
  outcome: fc.constantFrom<(Outcome | null)[]>("accept", "accept-with-allowance", "hold", "return", null),
  identity: fc.constantFrom("as-ordered", "wrong", "over" as const),
});

describe("for any leaves and counts", () => {
  test("both sums hold whenever a line is called balanced, and the money adds up", () => {
    fc.assert(
      fc.property(
        fc.array(someLeaf, { maxLength: 12 }),
        fc.nat(12),
        fc.option(fc.nat(14)),
        (drawn, ordered, counted) => {
          const own = drawn.map(({ outcome, identity }, index) =>
            aLeaf({
              code: `W${index}`,
              line: "L1",
              identity,
              decision: outcome && decided(outcome, outcome === "accept-with-allowance" ? 12.35 : null),
            }),
          );
          const one = lineBalance(line("L1", 99.99, ordered, counted), own);
          const decidedPieces = one.accepted + one.allowance + one.held + one.returned + one.wrong;
          if (one.balanced) {
            expect(one.ordered).toBe(decidedPieces + one.short + one.undecided);
            expect(one.counted).toBe(decidedPieces + one.over + one.undecided);
            const { total, pay, allowance, held, withheld, undecided } = moneyOf([one], own);
            expect(pay + allowance + held + withheld + undecided).toBeCloseTo(total, 6);
          } else expect(counted === null || decidedPieces > counted - one.over).toBe(true);
        },
      ),
      { seed: 7, numRuns: 500 },
    );
  });

  test("a line that was not counted is not balanced and has no sentence", () => {
    expect(lineBalance(line("L1", 1, 3, null), [])).toMatchObject({
      balanced: false,
      noteSentence: null,
      undecided: 3,
    });
  });
});
