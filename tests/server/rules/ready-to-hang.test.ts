import { expect, test } from "vitest";
import { readyToHang } from "../../../server/rules/ready-to-hang.ts";
import { aDelivery, aLeaf, anOpening, decided } from "../../support/leaves.ts";

const place = (opening: string, which: 0 | 1, leaf: string) => ({ opening, place: which, leaf, turned: false });

test("an opening is ready when all its leaves are planned and accepted", () => {
  const delivery = aDelivery({
    openings: [
      anOpening({ id: "1" }),
      anOpening({ id: "2", leaves: 2 }),
      anOpening({ id: "3", leaves: 2 }),
      anOpening({ id: "4" }),
    ],
    leaves: [
      aLeaf({ code: "A", decision: decided("accept") }),
      aLeaf({ code: "B", decision: decided("accept-with-allowance", 5) }),
      aLeaf({ code: "C", decision: decided("accept") }),
      aLeaf({ code: "D", decision: decided("hold") }),
      aLeaf({ code: "E" }),
    ],
    plan: [place("1", 0, "A"), place("2", 0, "B"), place("2", 1, "C"), place("3", 0, "D"), place("4", 0, "E")],
  });
  expect(readyToHang(delivery)).toEqual([
    { opening: "1", leaf: "A" },
    { opening: "2", leaf: "B" },
    { opening: "2", leaf: "C" },
  ]);
});
