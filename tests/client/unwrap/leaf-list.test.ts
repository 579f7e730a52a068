import { expect, test } from "vitest";
import { asListing, belongs, inOrder, likelyIdentity } from "../../../client/unwrap/leaf-list.ts";
import { overview } from "../support/brannoch-quay.ts";

const codes = (listing: Parameters<typeof belongs>[1]) =>
  overview.leaves.filter((leaf) => belongs(leaf, listing)).map(({ code }) => code);

test("each list holds its leaves", () => {
  expect(codes("all")).toHaveLength(20);
  expect(codes("wrapped")).toEqual(["S04"]);
  expect(codes("photo")).toEqual(["S02", "S04"]);
  expect(codes("undecided")).toEqual(["A04", "S02"]);
  expect(codes("settled")).toHaveLength(18);
  expect(codes("held")).toEqual(overview.leaves.filter(({ outcome }) => outcome === "hold").map(({ code }) => code));
});

test("a leaf that hangs already is never to unwrap or to decide, one photo of it is enough, and it comes last", () => {
  const [leaf] = overview.leaves;
  if (!leaf) throw new Error("no leaf");
  const faces = { A: "measured", B: "missing" } as const;
  const old = { ...leaf, code: "X1", line: null, unwrapped: false, outcome: "undecided" as const, faces };
  const listedAs = (listing: Parameters<typeof belongs>[1]) => belongs(old, listing);
  expect([listedAs("wrapped"), listedAs("undecided"), listedAs("held"), listedAs("photo"), listedAs("all")]).toEqual([
    false,
    false,
    false,
    false,
    true,
  ]);
  expect(belongs({ ...old, faces: { A: "retake", B: "missing" } }, "photo")).toBe(true);
  expect(inOrder([old, ...overview.leaves]).map(({ code }) => code)).toEqual([
    ...overview.leaves.map(({ code }) => code),
    "X1",
  ]);
});

test("a word in the address that names no list shows all", () => {
  expect([asListing("wrapped"), asListing("nonsense"), asListing(undefined)]).toEqual(["wrapped", "all", "all"]);
});

test("an added leaf is taken to be as ordered until its line is full", () => {
  for (const line of overview.orderLines) {
    const there = overview.leaves.filter((leaf) => leaf.line === line.id);
    expect(likelyIdentity(there, { ...line, ordered: there.length + 1 })).toBe("as-ordered");
    expect(likelyIdentity(there, { ...line, ordered: there.length })).toBe("over");
  }
});
