import { expect, test } from "vitest";
import { mayTakeBack } from "../../../server/rules/may-take-back.ts";

const line = { actor: "Kim Roe", device: "phone 2" };

test.each([
  ["the hand who entered it, on the same phone", { name: "Kim Roe", device: "phone 2", role: "hand" }, true],
  ["the same name on another phone", { name: "Kim Roe", device: "phone 3", role: "hand" }, false],
  ["another hand on that phone", { name: "Ali Bern", device: "phone 2", role: "hand" }, false],
  ["the foreman", { name: "Jo Arden", device: "laptop", role: "foreman" }, true],
] as const)("%s: %o %s", (_, by, may) => {
  expect(mayTakeBack(line, by)).toBe(may);
});
