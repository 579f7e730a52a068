import { expect, test } from "vitest";
import { asListing, belongs } from "../../../client/unwrap/leaf-list.ts";
import { overview } from "../support/brannoch-quay.ts";

const codes = (listing: Parameters<typeof belongs>[1]) =>
  overview.leaves.filter((leaf) => belongs(leaf, listing)).map(({ code }) => code);

test("each list holds its leaves", () => {
  expect(codes("all")).toHaveLength(20);
  expect(codes("wrapped")).toEqual(["S04"]);
  expect(codes("photo")).toEqual(["S02", "S04"]);
  expect(codes("undecided")).toEqual(["A04", "S02"]);
  expect(codes("settled")).toHaveLength(18);
});

test("a leaf that hangs already is never to unwrap or to decide", () => {
  const [leaf] = overview.leaves;
  if (!leaf) throw new Error("no leaf");
  const old = { ...leaf, line: null, unwrapped: false, outcome: "undecided" as const };
  expect([belongs(old, "wrapped"), belongs(old, "undecided"), belongs(old, "all")]).toEqual([false, false, true]);
});

test("a word in the address that names no list shows all", () => {
  expect([asListing("wrapped"), asListing("nonsense"), asListing(undefined)]).toEqual(["wrapped", "all", "all"]);
});
