import { expect, test } from "vitest";
import { inGroups, readCode } from "../../../client/people/pairing-code.ts";

test.each([
  ["7k3m 9xq2", "7K3M9XQ2"],
  ["7K3M-9XQ2", "7K3M9XQ2"],
  ["oil0 1abc", "01101ABC"],
  ["7K3M9XQ2 and more", "7K3M9XQ2"],
  ["uuu!", ""],
])("%s is read as %s", (typed, code) => {
  expect(readCode(typed)).toBe(code);
});

test("a code stands in two groups, a half typed one too, and is read back from them", () => {
  expect(["", "7K3", "7K3M", "7K3M9", "7K3M9XQ2"].map(inGroups)).toEqual(["", "7K3", "7K3M", "7K3M 9", "7K3M 9XQ2"]);
  expect(readCode(inGroups("7K3M9XQ2"))).toBe("7K3M9XQ2");
});
