import { describe, expect, test } from "vitest";
import {
  lateWords,
  likeWords,
  movesWords,
  moveWords,
  partInSpace,
  replaceWords,
  returnsWords,
} from "../../../client/match/question-words.ts";

const returns = { tolerance: 2, bound: 1, proven: true, worst: 1.4 };
const one = { opening: "1.02", place: 0, returned: "W03", like: { leaf: "W01", turned: true, worst: 1 } } as const;

describe("answers in words", () => {
  test("returns: none, proven, or with what might still do", () => {
    expect(returnsWords({ ...returns, bound: 0, replace: [] })).toBe(
      "No leaf needs to go back for every space to keep ΔE00 2.0.",
    );
    expect(returnsWords({ ...returns, replace: [one] })).toMatch(
      /^1 leaf has to be replaced .* Proven: fewer will not do\.$/,
    );
    expect(returnsWords({ ...returns, proven: false, replace: [one, one] })).toMatch(
      /^2 leaves have .* Perhaps 1 would do; fewer than that will not\.$/,
    );
    expect(replaceWords(one)).toBe("1.02: W03 goes back; order one that looks like W01 turned round.");
    expect(replaceWords({ ...one, place: 1, returned: null, like: null })).toMatch(
      /^1\.02, second leaf: a new leaf is needed; no delivered leaf shows/,
    );
  });

  test("late: nothing waits, one opening, or two ways", () => {
    const waiting = { opening: "1.02", place: 0, turned: false, meanwhile: 1, afterwards: 4 } as const;
    expect(lateWords({ leaf: "W01", waiting: null })[0]).toMatch(/^No opening needs to wait for W01/);
    expect(lateWords({ leaf: "W01", waiting: { unseen: waiting, counted: waiting } })).toEqual([
      "Leave 1.02 empty: worst pair 1.0 until it comes, 4.0 with it.",
    ]);
    const counted = { ...waiting, opening: "1.03", meanwhile: 1.5, afterwards: 2 };
    expect(lateWords({ leaf: "W01", waiting: { unseen: waiting, counted } })[1]).toBe(
      "Or, counting on the colour measured on W01, 1.03: worst pair 1.5 until it comes, 2.0 with it.",
    );
    expect(lateWords({ leaf: "W01", waiting: { unseen: waiting, counted: null } })[1]).toMatch(/compared with nothing/);
  });

  test("moves: who goes where, and what fewer might do", () => {
    const moved = { leaf: "W01", from: { opening: "1.01", place: 0 }, to: null, turned: false } as const;
    const few = { loss: 0, changed: 3, bound: 1, proven: false, worst: 2, sum: 9, moved: [moved] };
    expect(movesWords(few)).toBe("1 leaf moves; worst pair 2.0. Perhaps 2 fewer would do.");
    expect(moveWords(moved)).toBe("1.01 → spare");
    expect(moveWords({ ...moved, to: moved.from, turned: true })).toBe("stays in 1.01, turned");
  });

  test("a new leaf: beside a delivered face, and where it is seen", () => {
    const like = { leaf: "W02", face: "A", deltaE: 1, words: "a little lighter than" } as const;
    const look = {
      space: "Corridor",
      part: "left-stile",
      lab: [60, 8, 20] as [number, number, number],
      swatch: "#806040",
      worst: 1,
      ranges: null,
      knownWithin: null,
      like,
    };
    expect(likeWords(look)).toBe("A little lighter than W02 face A");
    expect(partInSpace(look)).toBe("Corridor, left stile");
    expect(partInSpace({ ...look, part: "face" })).toBe("Corridor");
  });
});
