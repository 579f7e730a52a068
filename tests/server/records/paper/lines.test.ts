import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { linesOf, printable } from "../../../../server/records/paper/lines.ts";

/** Every letter is one wide; marks that stand on another letter have no width. */
const measure = { widthOfString: (text: string): number => text.replaceAll(/\p{M}/gu, "").length };

describe("lines", () => {
  test("break at spaces and at line breaks, and inside a word that is too long", () => {
    expect(linesOf("the quick brown fox", 9, measure)).toEqual(["the quick", "brown fox"]);
    expect(linesOf("one\n\ntwo", 9, measure)).toEqual(["one", "", "two"]);
    expect(linesOf("abcdefghijkl m", 5, measure)).toEqual(["abcde", "fghij", "kl m"]);
    expect(linesOf("", 5, measure)).toEqual([""]);
  });

  test("no line is too wide and no letter is lost", () => {
    const text = fc.string({ unit: fc.constantFrom("a", "b", " ", "\n", "-"), maxLength: 400 });
    fc.assert(
      fc.property(text, fc.integer({ min: 1, max: 30 }), (typed, width) => {
        const lines = linesOf(typed, width, measure);
        for (const line of lines) expect(line.length).toBeLessThanOrEqual(width);
        expect(lines.join("").replaceAll(/\s/g, "")).toBe(typed.replaceAll(/\s/g, ""));
      }),
      { seed: 11 },
    );
  });

  test("marks without width are still cut into lines", () => {
    const lines = linesOf(`a${"\u0301".repeat(10_000)}`, 50, measure);
    expect(lines.length).toBeGreaterThan(50);
    expect(lines.join("")).toHaveLength(10_001);
  });
});

describe("what can be printed", () => {
  const latin = (codePoint: number): boolean => codePoint < 0x250;
  test("a letter the typeface lacks becomes a square, whatever it is made of", () => {
    expect(printable("door 🚪 ש", latin)).toBe("door □ □");
  });
  test("signs without a shape go, spaces of every kind become plain", () => {
    expect(printable("a\u200bb\u202ec\u00a0d\te\r\nf", latin)).toBe("abc d e\nf");
  });
  test("half of a surrogate pair is a square", () => {
    expect(printable("\ud800x", latin)).toBe("□x");
  });
});
