import { expect, test } from "vitest";
import { asMarkKind, figure, markWords, money, typedNumber } from "../../client/words.ts";
import { markKind } from "../../server/contract/terms.ts";

test("every kind of mark of the contract has its word, and no other", () => {
  expect(Object.keys(markWords).sort()).toEqual([...markKind.options].sort());
});

test("a kind that the list does not hold is other", () => {
  expect(asMarkKind("sand-through")).toBe("sand-through");
  expect(asMarkKind("knot")).toBe("other");
});

test("numbers are taken with a point or a comma, and nothing else", () => {
  expect(["0,4", "0.4", " 12 ", "", "-3"].map(typedNumber)).toEqual([0.4, 0.4, 12, null, -3]);
  for (const wrong of ["a", "1.2.3", "1e3", "0x10", "12.", "1,000.5"]) expect(typedNumber(wrong)).toBeNaN();
});

test("a figure is told with its uncertainty, and a missing one is told as such", () => {
  expect(figure(1.74, 0.36)).toBe("1.7 ± 0.4");
  expect(figure(1.74, null)).toBe("1.7");
  expect(figure(null, null)).toBe("not measured");
});

test("whole amounts stand without pence", () => {
  expect(money(4223, "GBP")).toBe("£4,223");
  expect(money(58.5, "GBP")).toBe("£58.50");
});
