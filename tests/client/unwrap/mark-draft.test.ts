import { expect, test } from "vitest";
import { draftAt, draftOf } from "../../../client/unwrap/mark-draft.ts";
import { leafView } from "../support/brannoch-quay.ts";

const { pattern, proposed } = leafView("W05");

test("a tap moves the mark and keeps what was entered", () => {
  const first = draftAt(null, { x: 400, y: 1000 }, pattern);
  expect(first.box).toEqual({ x: 390, y: 990, w: 20, h: 20 });
  const entered = { ...first, kind: "split" as const, note: "along the joint", box: { ...first.box, w: 6, h: 80 } };
  const moved = draftAt(entered, { x: 1, y: 500 }, pattern);
  expect(moved).toEqual({ ...entered, box: { x: 0, y: 460, w: 6, h: 80 } });
});

test("what a photo proposes is taken over with its place and its photo, and said to come from it", () => {
  const [one] = proposed;
  if (!one) throw new Error("nothing proposed");
  expect(draftOf(one)).toMatchObject({ box: one.box, kind: "scratch", photo: one.photo, foundBy: "photo" });
  expect(draftOf({ ...one, kind: "knot" }).kind).toBe("other");
});
