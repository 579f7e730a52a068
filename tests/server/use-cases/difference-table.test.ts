import { expect, test } from "vitest";
import { differenceTable } from "../../../server/use-cases/difference-table.ts";

test("every two faces are asked for once and stand at both their places, with how sure they are", () => {
  const asked: string[] = [];
  const table = differenceTable(
    ["a", "b", "c"],
    (name) => `face ${name}`,
    (one, other) => {
      asked.push(one + other);
      return one + other === "bc" ? { deltaE: null, u95: null } : { deltaE: 2, u95: 0.3 };
    },
  );
  expect(asked).toEqual(["ab", "ac", "bc"]);
  expect(table).toEqual({
    faces: ["face a", "face b", "face c"],
    deltaE: [
      [0, 2, 2],
      [2, 0, null],
      [2, null, 0],
    ],
    u95: [
      [0, 0.3, 0.3],
      [0.3, 0, null],
      [0.3, null, 0],
    ],
  });
});
