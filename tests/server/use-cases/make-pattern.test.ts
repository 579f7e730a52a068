import { expect, test } from "vitest";
import { makePattern } from "../../../server/use-cases/make-pattern.ts";

test.each([
  ["4 Panel", "P4-1981X838"],
  ["four-panel", "P4-1981X838"],
  [" 1-panel ", "P1-1981X838"],
  ["5 horizontal", "H5-1981X838"],
  ["five panel", "H5-1981X838"],
  ["Vertical boards", "BD-1981X838"],
  ["boarded", "BD-1981X838"],
  ["Ladder", "LD-1981X838"],
  ["glazed", "GL-1981X838"],
])("%s is a pattern of the trade", (written, id) => {
  expect(makePattern(written, 838, 1981)).toMatchObject({ id, widthMm: 838, heightMm: 1981 });
});

test("another word is none, and which there are is said", () => {
  expect(makePattern("round", 838, 1981)).toEqual({
    why: expect.stringContaining('"round" is not a pattern: use flush'),
  });
});
