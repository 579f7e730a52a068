import { expect, test } from "vitest";
import { pairInStrip, planChanges } from "../../../client/match/plan-changes.ts";
import type { MatchView } from "../../../server/contract/views.ts";
import { matchView } from "../support/brannoch-quay.ts";

const put = (view: MatchView, leaves: Readonly<Record<string, [leaf: string | null, turned: boolean]>>): MatchView => ({
  ...view,
  spaces: view.spaces.map((strip) => ({
    ...strip,
    places: strip.places.map((place) => {
      const change = leaves[place.opening];
      return change ? { ...place, leaf: change[0], turned: change[1] } : place;
    }),
  })),
});

const plan = matchView.spaces.flatMap(({ places }) =>
  places.flatMap(({ opening, place, leaf, turned }) => (leaf === null ? [] : [{ opening, place, leaf, turned }])),
);

test("nothing moved, nothing told", () => {
  expect(planChanges(plan, matchView)).toEqual([]);
});

test("moves, turns and leaves that come in or go out are told, those that hang already are not", () => {
  const after = put(matchView, {
    "1.01": ["W02", true],
    "1.02": ["W01", true],
    "1.06": ["W08", true],
    "1.31": ["S02", false],
    "1.30": [null, false],
    "1.33": ["X33", true],
  });
  expect(planChanges(plan, after)).toEqual([
    { leaf: "S01", from: "1.30", to: null, turned: false },
    { leaf: "S02", from: null, to: "1.31", turned: false },
    { leaf: "W01", from: "1.01", to: "1.02", turned: false },
    { leaf: "W02", from: "1.02", to: "1.01", turned: true },
    { leaf: "W08", from: "1.06", to: "1.06", turned: true },
  ]);
});

test("a leaf that came from an opening no space sees was spare to those who look", () => {
  const elsewhere = plan.map((one) => (one.leaf === "W01" ? { ...one, opening: "0.99" } : one));
  expect(planChanges(elsewhere, matchView)).toEqual([{ leaf: "W01", from: null, to: "1.01", turned: false }]);
});

test("a pair is found in its strip, left one first, and only with the right faces", () => {
  const places = matchView.spaces[0]?.places ?? [];
  const pair = (a: string, faceA: string, b: string, faceB: string) => ({
    a: { leaf: a, face: faceA },
    b: { leaf: b, face: faceB },
  });
  expect(pairInStrip(places, pair("W08", "A", "W01", "B"))).toEqual([0, 5]);
  expect(pairInStrip(places, pair("W08", "B", "W01", "B"))).toBeNull();
  expect(pairInStrip(places, pair("W08", "A", "Z99", "A"))).toBeNull();
});
