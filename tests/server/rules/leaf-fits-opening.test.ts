import { expect, test } from "vitest";
import { whyNotInOpening } from "../../../server/rules/leaf-fits-opening.ts";
import { aDelivery, aLeaf, aLine, anOpening } from "../../support/leaves.ts";

const why = (has: string | null, asked: string | null, given = {}) =>
  whyNotInOpening(
    aLeaf(given),
    anOpening({ lines: ["L1"], fireRating: asked }),
    aDelivery({ lines: [aLine({ id: "L1", fireRating: has })] }),
  );

test.each([
  ["FD30", "FD30", true],
  ["FD30S", "FD30", true],
  ["FD60", "FD30", true],
  ["FD60S", "FD30S", true],
  ["FD30", null, true],
  [null, null, true],
  ["FD30", "FD30S", false],
  ["FD30", "FD60", false],
  [null, "FD30", false],
  ["EI30", "FD30", false],
  ["some rating", "some rating", true],
  ["some rating", "other rating", false],
])("a leaf rated %s where %s is asked: %s", (has, asked, fits) => {
  expect(why(has, asked) === null).toBe(fits);
});

test("another line, another size, a wrong leaf do not fit", () => {
  expect(why(null, null, { line: "L2" })).toBe("W01 was not ordered for 1.01");
  expect(why(null, null, { pattern: "FL-2040X726" })).toMatch(/another size or pattern/);
  expect(why(null, null, { identity: "wrong" })).toMatch(/not as ordered/);
});
