import { describe, expect, test } from "vitest";
import type { Delivery } from "../../../server/contract/delivery.ts";
import type { Leaf, Mark } from "../../../server/contract/leaf.ts";
import { whyNot } from "../../../server/rules/leaf-decision.ts";
import { aDelivery, aLeaf, aMark, aPhoto } from "../../support/leaves.ts";

const bothFaces = (code: string) => [aPhoto("single", [code, "A"]), aPhoto("single", [code, "B"])];
const of = (leaf: Leaf, photos = bothFaces("W01"), marks: Mark[] = []): Delivery =>
  aDelivery({ leaves: [leaf], photos, marks });
const leaf = aLeaf({});
const answers = (one: Leaf, delivery: Delivery) =>
  (["accept", "accept-with-allowance", "hold", "return"] as const).map(
    (outcome) => whyNot(one, outcome, delivery) === null,
  );

describe("what may be decided", () => {
  test("anything about a sound leaf that was unwrapped and photographed", () => {
    expect(answers(leaf, of(leaf))).toEqual([true, true, true, true]);
  });

  test("nothing before unwrapping", () => {
    const wrapped = aLeaf({ unwrappedAt: null });
    expect(answers(wrapped, of(wrapped))).toEqual([false, false, false, false]);
    expect(whyNot(wrapped, "return", of(wrapped))).toBe("Unwrap W01 first.");
  });

  test("with one face photographed it may be held or returned, not taken; details do not count as a face", () => {
    const photos = [aPhoto("single", ["W01", "A"]), aPhoto("detail", ["W01", "B"])];
    expect(answers(leaf, of(leaf, photos))).toEqual([false, false, true, true]);
    expect(answers(leaf, of(leaf, [aPhoto("line-up", ["W01", "A"], ["W01", "B"])]))).toEqual([true, true, true, true]);
    expect(answers(leaf, of(leaf, []))).toEqual([false, false, false, false]);
  });

  test("a mark beyond its limit forbids plain acceptance only; withdrawn it forbids nothing", () => {
    const mark = aMark({ box: { x: 0, y: 0, w: 20, h: 5 }, depthMm: 1 });
    expect(answers(leaf, of(leaf, undefined, [mark]))).toEqual([false, true, true, true]);
    expect(answers(leaf, of(leaf, undefined, [{ ...mark, withdrawn: true }]))).toEqual([true, true, true, true]);
    expect(answers(leaf, of(leaf, undefined, [{ ...mark, kind: "natural" }]))).toEqual([true, true, true, true]);
  });

  test("what is wrong or over is held or returned", () => {
    for (const identity of ["wrong", "over"] as const) {
      const one = aLeaf({ identity });
      expect(answers(one, of(one))).toEqual([false, false, true, true]);
    }
  });

  test("a cut leaf cannot go back", () => {
    const cut = aLeaf({ cut: true });
    expect(answers(cut, of(cut))).toEqual([true, true, true, false]);
  });

  test("a leaf that hangs there already is not decided about", () => {
    const old = aLeaf({ line: null });
    expect(answers(old, of(old))).toEqual([false, false, false, false]);
  });

  test("for a pair both leaves must stand the question", () => {
    const one = aLeaf({ pairWith: "W02" });
    const other = aLeaf({ code: "W02", pairWith: "W01" });
    const half = aDelivery({ leaves: [one, other], photos: bothFaces("W01") });
    expect(whyNot(one, "accept", half)).toBe("Photograph both faces of W02 first.");
    const whole = aDelivery({ leaves: [one, other], photos: [...bothFaces("W01"), ...bothFaces("W02")] });
    expect(answers(one, whole)).toEqual([true, true, true, true]);
  });
});
