import { expect, test } from "vitest";
import { spaceLook } from "../../../server/rules/space-look.ts";

const seats = new Map([
  ["1.01", ["1.01"]],
  ["1.02", ["H01/A"]],
]);
const corridor = { id: "CORRIDOR", name: "Corridor", kind: "corridor" } as const;
const look = {
  weight: 2,
  walls: [["1.02", "1.01"]],
  gentle: "darker",
  noLightBesideDark: true,
  marksCount: 0.3,
} as const;

test("without a look every two faces count alike, and marks by the kind of the space", () => {
  expect(spaceLook(corridor, seats, 60)).toEqual({ id: "CORRIDOR", weight: 1, marksCount: 1 });
  expect(spaceLook({ ...corridor, kind: "room" }, seats, 60).marksCount).toBe(0.5);
  expect(spaceLook({ ...corridor, kind: "store" }, seats, 60).marksCount).toBe(0);
  const weighed = { ...look, walls: [], marksCount: null };
  expect(spaceLook({ ...corridor, kind: "store", look: weighed }, seats, 60)).toMatchObject({
    weight: 2,
    marksCount: 0,
  });
});

test("a look is taken over; on the walls a leaf that stays stands by the name of its face", () => {
  expect(spaceLook({ ...corridor, look: { ...look, walls: [["1.02", "1.01"]] } }, seats, 60)).toEqual({
    id: "CORRIDOR",
    weight: 2,
    walls: [["H01/A", "1.01"]],
    gentle: { goes: "darker", stepBack: 0.5 },
    lightBesideDark: { average: 60, adds: 1 },
    marksCount: 0.3,
  });
});

test("an opening that no longer looks there is left out, and light beside dark needs an average", () => {
  const space = spaceLook({ ...corridor, look: { ...look, walls: [["9.99", "1.01"]], gentle: null } }, seats, null);
  expect(space).toEqual({ id: "CORRIDOR", weight: 2, walls: [["1.01"]], marksCount: 0.3 });
});
