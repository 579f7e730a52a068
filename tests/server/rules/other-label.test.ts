import { expect, test } from "vitest";
import { otherLabel } from "../../../server/rules/other-label.ts";

const [idOfW01, idOfW02, nobodys] = ["0000000000001", "0000000000002", "0000000000009"];
const leaves = [{ code: "W01", labelId: idOfW01 }, { code: "W02", labelId: idOfW02 }, { code: "W03" }];
const shows = (...codes: string[]) => codes.map((leaf) => ({ leaf }));
const advice = (...labels: Parameters<typeof otherLabel>[1]) =>
  otherLabel(shows("W01"), labels, leaves).map((gate) => gate.advice);

test("a photo that carries its own leaf's label, or none, is told nothing", () => {
  expect(advice({ id: idOfW01 })).toEqual([]);
  expect(advice({ leaf: "W01" })).toEqual([]);
  expect(advice()).toEqual([]);
});

test("a label of another leaf, or of no leaf of the delivery, is told", () => {
  expect(advice({ id: idOfW02 })).toEqual([expect.stringMatching(/says W02, but the photo is filed under W01/)]);
  expect(advice({ leaf: "W03" })).toEqual([expect.stringMatching(/says W03/)]);
  expect(advice({ id: nobodys })).toEqual([expect.stringMatching(/of no leaf of this delivery/)]);
});

test("a code that is nobody's label says nothing, whatever stands behind it counts", () => {
  expect(advice({ leaf: "HTTP" })).toEqual([]);
  expect(advice({ leaf: "HTTP" }, { id: idOfW02 })).toHaveLength(1);
  expect(advice({ id: idOfW01 }, { id: idOfW02 })).toEqual([]);
});

test("a picture of several leaves is not judged", () => {
  expect(otherLabel(shows("W01", "W02"), [{ id: nobodys }], leaves)).toEqual([]);
  expect(otherLabel(shows("W01", "W01"), [{ id: nobodys }], leaves)).toHaveLength(1);
  expect(otherLabel([], [{ id: nobodys }], leaves)).toEqual([]);
});
