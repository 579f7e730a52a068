import { expect, test } from "vitest";
import { putOnWall, stepped, wallOf, wallRows } from "../../../client/match/walls.ts";
import { matchView } from "../support/brannoch-quay.ts";

const [corridor] = matchView.spaces;
if (!corridor) throw new Error("no corridor");
const openings = (walls: string[][]) =>
  wallRows({
    ...corridor,
    space: {
      ...corridor.space,
      look: { weight: 1, walls, gentle: null, noLightBesideDark: false, marksCount: 1 },
    },
  }).map((row) => row.map(({ opening }) => opening));

test("one row in the order of the schedule until walls are told", () => {
  expect(wallRows(corridor)).toEqual([corridor.places]);
});

test("a row a wall in its own order, and a last row of those on no wall", () => {
  expect(openings([["1.05", "1.01"], ["1.02"]])).toEqual([["1.05", "1.01"], ["1.02"], ["1.03", "1.04", "1.06"]]);
  expect(openings([["1.01", "1.02", "1.03", "1.04", "1.05", "1.06"], ["9.99"]]), "a wall without places").toHaveLength(
    1,
  );
});

test("an opening steps along its wall and stops at its ends", () => {
  const walls = [["a", "b", "c"], ["d"]];
  expect(stepped(walls, "b", -1)).toEqual([["b", "a", "c"], ["d"]]);
  expect(stepped(walls, "b", 1)).toEqual([["a", "c", "b"], ["d"]]);
  expect(stepped(walls, "a", -1)).toEqual(walls);
  expect(stepped(walls, "d", 1)).toEqual(walls);
});

test("an opening moves to another wall, to a new one, or off the walls", () => {
  const walls = [["a", "b"], ["c"]];
  expect(putOnWall(walls, "a", 1)).toEqual([["b"], ["c", "a"]]);
  expect(putOnWall(walls, "c", 0), "the wall left empty goes").toEqual([["a", "b", "c"]]);
  expect(putOnWall(walls, "b", 2)).toEqual([["a"], ["c"], ["b"]]);
  expect(putOnWall(walls, "a", null)).toEqual([["b"], ["c"]]);
  expect(putOnWall([], "a", 0)).toEqual([["a"]]);
  expect([wallOf(walls, "c"), wallOf(walls, "z")]).toEqual([1, null]);
});
