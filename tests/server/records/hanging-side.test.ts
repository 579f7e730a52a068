import { describe, expect, test } from "vitest";
import { faceOfSide, hangingSide, sideOfFace } from "../../../server/records/hanging-side.ts";
import { quayDelivery } from "./quay-delivery.ts";

const [single, pair] = quayDelivery().openings as [
  ReturnType<typeof quayDelivery>["openings"][number],
  ReturnType<typeof quayDelivery>["openings"][number],
];

describe("which face looks where", () => {
  test("face A looks into side 0, and into side 1 when the leaf is turned", () => {
    expect([sideOfFace("A", false), sideOfFace("B", false)]).toEqual([0, 1]);
    expect([sideOfFace("A", true), sideOfFace("B", true)]).toEqual([1, 0]);
  });

  test("face of side and side of face undo each other", () => {
    for (const turned of [false, true])
      for (const side of [0, 1] as const) expect(sideOfFace(faceOfSide(side, turned), turned)).toBe(side);
  });
});

describe("hinge side", () => {
  test("left from the corridor is right from the room", () => {
    expect(hangingSide(single, 0, 0)).toBe("left");
    expect(hangingSide(single, 0, 1)).toBe("right");
  });

  test("the left leaf of a pair hangs on the left, the right one on the right, as seen from side 0", () => {
    expect(hangingSide(pair, 0, 0)).toBe("left");
    expect(hangingSide(pair, 1, 0)).toBe("right");
    expect(hangingSide(pair, 1, 1)).toBe("left");
  });

  test("not told is not guessed", () => {
    expect(hangingSide({ ...single, hinge: null }, 0, 0)).toBeNull();
  });
});
