import { expect, test } from "vitest";
import { kindsOfSpace, unfilledSays } from "../../../client/match/kinds-of-space.ts";
import { matchView } from "../support/brannoch-quay.ts";

const [strip] = matchView.spaces;
const [place] = strip?.places ?? [];
if (!strip || !place) throw new Error("no place");
const space = (name: string, leaves: readonly (string | null)[]) => ({
  ...strip,
  space: { ...strip.space, id: name, name },
  places: leaves.map((leaf) => ({ ...place, leaf })),
});
const hall = space("Hall", ["W01", null, "W02"]);
const lobby = space("Lobby", [null, null]);
const landing = space("Landing", [null, "W03"]);
const office = space("Office", ["W04"]);
const store = space("Store", [null]);

test("spaces part into seen together, not filled yet and seen alone, each in the order given", () => {
  const kinds = kindsOfSpace([lobby, office, hall, landing, store]);
  const names = (strips: readonly { space: { name: string } }[]) => strips.map((one) => one.space.name);
  expect(names(kinds.together)).toEqual(["Hall"]);
  expect(names(kinds.unfilled)).toEqual(["Lobby", "Landing"]);
  expect(names(kinds.alone)).toEqual(["Office", "Store"]);
});

test("what is not filled is said with its names", () => {
  expect(unfilledSays([lobby])).toBe("No leaf yet: Lobby");
  expect(unfilledSays([lobby, landing])).toBe("Fewer than two leaves yet: Lobby, Landing");
});
