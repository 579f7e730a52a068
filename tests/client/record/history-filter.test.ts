import { expect, test } from "vitest";
import { sorted } from "../../../client/record/history-filter.ts";

const line = (seq: number, actor: string, leaves: string[], undoable: boolean) => ({
  seq,
  at: "2026-03-03T10:40:00+00:00",
  actor,
  device: "phone",
  what: `entry ${seq}`,
  undoable,
  leaves,
});
const lines = [line(1, "Jo", ["W10"], true), line(2, "Lee", ["W2"], true), line(3, "Jo", [], false)];

test("everything stands newest first, and the last that can be taken back is named", () => {
  const { shown, last, leaves, people } = sorted(lines, { leaf: "", person: "" });
  expect(shown.map(({ seq }) => seq)).toEqual([3, 2, 1]);
  expect(last?.seq).toBe(2);
  expect(leaves).toEqual(["W2", "W10"]);
  expect(people).toEqual(["Jo", "Lee"]);
});

test("a leaf and a person narrow it, and what can be taken back with it", () => {
  expect(sorted(lines, { leaf: "", person: "Jo" }).last?.seq).toBe(1);
  expect(sorted(lines, { leaf: "W2", person: "" }).shown.map(({ seq }) => seq)).toEqual([2]);
  expect(sorted(lines, { leaf: "W2", person: "Jo" })).toMatchObject({ shown: [], last: null });
});
