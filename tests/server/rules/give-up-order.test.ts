import { expect, test } from "vitest";
import { giveUpOrder } from "../../../server/rules/give-up-order.ts";
import { aDelivery, aLeaf, aLine, anOpening } from "../../support/leaves.ts";

const spaces = (["store", "room", "hall", "corridor"] as const).map((kind) => ({
  id: kind.toUpperCase(),
  name: kind,
  kind,
}));
const at = (id: string, ...sides: [string | null, string | null]) => anOpening({ id, lines: ["L1"], sides });
const openings = [
  at("1", "CORRIDOR", "ROOM"),
  at("2", "HALL", null),
  at("3", "ROOM", "STORE"),
  at("4", "STORE", null),
  at("5", "ROOM", null),
];

test("the least seen waits first, among equals the last of the schedule", () => {
  const delivery = aDelivery({ spaces, openings, lines: [aLine({ ordered: 5 })], leaves: [aLeaf({})] });
  expect(giveUpOrder(delivery, new Set(["W01"]))).toEqual(["4", "5", "3", "2", "1"]);
});

test("nothing may stay empty when all ordered leaves are there, nor where an old leaf stays", () => {
  const full = aDelivery({ spaces, openings, lines: [aLine({ ordered: 1 })], leaves: [aLeaf({})] });
  expect(giveUpOrder(full, new Set(["W01"]))).toEqual([]);
  expect(giveUpOrder(full, new Set())).toHaveLength(5);
  const old = aDelivery({
    spaces,
    openings: [anOpening({ lines: ["L1"], existingLeaf: "X1" })],
    lines: [aLine({ ordered: 2 })],
  });
  expect(giveUpOrder(old, new Set())).toEqual([]);
});
