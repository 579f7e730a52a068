import { expect, test } from "vitest";
import { missingViews } from "../../../server/rules/face-coverage.ts";
import { aLeaf, aMark, aPhoto } from "../../support/leaves.ts";

test("a wrapped leaf lacks everything, the wrapping first", () => {
  expect(missingViews(aLeaf({ unwrappedAt: null }), { photos: [], marks: [] })).toEqual([
    "the leaf in its wrapping",
    "the label",
    "face A, whole",
    "face B, whole",
    "the closing edge",
  ]);
});

test("each photo takes its view off the list; one line-up may take two", () => {
  const photos = [aPhoto("line-up", ["W01", "A"], ["W01", "B"]), aPhoto("label", ["W01", "A"])];
  expect(missingViews(aLeaf({}), { photos, marks: [] })).toEqual(["the closing edge"]);
});

test("damage in carriage asks for the wrapping, every mark for a close view of its own face", () => {
  const photos = [
    aPhoto("single", ["W01", "A"]),
    aPhoto("single", ["W01", "B"]),
    aPhoto("label", ["W01", "A"]),
    aPhoto("edge", ["W01", "A"]),
  ];
  const marks = [aMark({ kind: "crushed-corner", face: "A" }), aMark({ kind: "dent", face: "B", withdrawn: true })];
  const leaf = aLeaf({});
  expect(missingViews(leaf, { photos, marks })).toEqual([
    "the wrapping at the damaged place",
    "a close view of the crushed corner on face A",
  ]);
  const more = [...photos, aPhoto("wrapping", ["W01", "A"]), aPhoto("detail", ["W01", "A"])];
  expect(missingViews(leaf, { photos: more, marks })).toEqual([]);
});
