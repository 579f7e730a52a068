import { beforeEach, expect, test } from "vitest";
import { layoutOf } from "../../../analysis/patterns.ts";
import { draftOf, putLine, putMoulding, stepBack } from "../../../client/joints/joint-draft.ts";
import { shelve, takenUp } from "../../../client/joints/kept-draft.ts";
import { aPattern } from "../../support/leaves.ts";

const parts = layoutOf("four-panel", 838, 1981)?.parts ?? [];
const pattern = aPattern({ id: "P4", parts: parts.map((part) => ({ ...part, rectMm: [...part.rectMm] })) });
const other = { ...pattern, id: "P4-2" };
const moved = putMoulding(putLine(draftOf(pattern), 0, 98, "drag"), 30);

let held: Map<string, string>;
const shelf = {
  getItem: (name: string) => held.get(name) ?? null,
  setItem: (name: string, text: string) => void held.set(name, text),
  removeItem: (name: string) => void held.delete(name),
};
beforeEach(() => {
  held = new Map();
});

test("lines that were moved are found again, of that pattern in that delivery only, and can be taken back", () => {
  shelve(shelf, "quay", moved);
  const again = takenUp(shelf, "quay", pattern);
  expect(again.places).toEqual(moved.places);
  expect(stepBack(again).places).toEqual(draftOf(pattern).places);
  expect(takenUp(shelf, "mill", pattern)).toEqual(draftOf(pattern));
  expect(takenUp(shelf, "quay", other)).toEqual(draftOf(other));
});

test("they still belong to the pattern they were moved from, when it was changed meanwhile", () => {
  shelve(shelf, "quay", moved);
  const changed = { ...pattern, parts: pattern.parts.slice(1) };
  expect(takenUp(shelf, "quay", changed).from).toEqual(pattern);
});

test("nothing is kept of lines that were not moved, or no longer", () => {
  shelve(shelf, "quay", moved);
  shelve(shelf, "quay", stepBack(stepBack(moved)));
  expect(held.size).toBe(0);
});

test("a full shelf stops nobody", () => {
  const full = {
    ...shelf,
    setItem: () => {
      throw new Error("full");
    },
  };
  expect(() => shelve(full, "quay", moved)).not.toThrow();
  expect(takenUp(full, "quay", pattern)).toEqual(draftOf(pattern));
});
