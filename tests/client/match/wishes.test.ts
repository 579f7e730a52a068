import { expect, test } from "vitest";
import { hold, keepOut, letIn, release, type Wishes } from "../../../client/match/wishes.ts";
import { matchView } from "../support/brannoch-quay.ts";

const [corridor] = matchView.spaces;
const place = (opening: string) => {
  const found = corridor?.places.find((one) => one.opening === opening);
  if (!found) throw new Error(`no place ${opening}`);
  return found;
};
const none: Wishes = { locks: [], bans: [] };

test("a leaf is held in one place only, and a place holds one leaf", () => {
  const first = hold(none, place("1.01"), true);
  expect(first.locks).toEqual([{ opening: "1.01", place: 0, leaf: "W01", turned: true }]);
  const elsewhere = hold(first, { ...place("1.02"), leaf: "W01" }, false);
  expect(elsewhere.locks).toEqual([{ opening: "1.02", place: 0, leaf: "W01", turned: false }]);
  const other = hold(first, { ...place("1.01"), leaf: "W08" }, false);
  expect(other.locks).toEqual([{ opening: "1.01", place: 0, leaf: "W08", turned: false }]);
});

test("an empty place holds nothing", () => {
  expect(hold(none, { ...place("1.01"), leaf: null }, false)).toEqual(none);
});

test("keeping a leaf out ends its hold and says of what and why", () => {
  const kept = keepOut(hold(none, place("1.03"), true), place("1.03"), "space", "CORRIDOR", "dent");
  expect(kept).toEqual({ locks: [], bans: [{ leaf: "W05", opening: null, space: "CORRIDOR", why: "dent" }] });
  expect(letIn(kept, 0)).toEqual(none);
});

test("letting one go leaves the other holds", () => {
  const both = hold(hold(none, place("1.01"), true), place("1.02"), false);
  expect(release(both, place("1.01")).locks.map(({ leaf }) => leaf)).toEqual(["W02"]);
});
