import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { layoutOf, patternNames } from "../../analysis/patterns.ts";

const sizes = [
  [926, 2040],
  [838, 1981],
  [610, 1981],
] as const;

describe("patterns", () => {
  test.each([
    ["flush", ["face"]],
    ["four-panel", ["muntin", "muntin", "panel", "panel", "panel", "panel", "rail", "rail", "rail", "stile", "stile"]],
    ["glazed", ["rail", "rail", "stile", "stile"]],
    ["ladder", ["panel", "panel", "panel", "panel", "rail", "rail", "rail", "rail", "rail", "stile", "stile"]],
    ["boarded", Array.from({ length: 8 }, () => "board")],
  ] as const)("%s has the parts of the trade", (name, kinds) => {
    expect(
      layoutOf(name, 926, 2040)
        ?.parts.map(({ kind }) => kind)
        .sort(),
    ).toEqual(kinds);
  });

  test.each(patternNames)("%s: parts lie on the face, have names of their own and do not overlap", (name) => {
    for (const [widthMm, heightMm] of sizes) {
      const parts = layoutOf(name, widthMm, heightMm)?.parts ?? [];
      expect(parts.length).toBeGreaterThan(0);
      expect(new Set(parts.map((part) => part.name)).size).toBe(parts.length);
      for (const [
        index,
        {
          rectMm: [x, y, w, h],
        },
      ] of parts.entries()) {
        expect(Math.min(x, y)).toBeGreaterThanOrEqual(0);
        expect(x + w).toBeLessThanOrEqual(widthMm + 1e-9);
        expect(y + h).toBeLessThanOrEqual(heightMm + 1e-9);
        for (const {
          rectMm: [x2, y2, w2, h2],
        } of parts.slice(index + 1)) {
          const overlap =
            Math.min(x + w, x2 + w2) - Math.max(x, x2) > 1e-9 && Math.min(y + h, y2 + h2) - Math.max(y, y2) > 1e-9;
          expect(overlap).toBe(false);
        }
      }
    }
  });

  test("grain runs across in rails and up in everything else", () => {
    for (const name of patternNames)
      for (const { kind, grain } of layoutOf(name, 926, 2040)?.parts ?? [])
        expect(grain).toBe(kind === "rail" ? "h" : "v");
  });

  test("a leaf too small for a pattern has none; a larger one keeps what fitted", () => {
    expect(layoutOf("four-panel", 300, 1981)).toBeNull();
    fc.assert(
      fc.property(
        fc.constantFrom(...patternNames),
        fc.integer({ min: 300, max: 1200 }),
        fc.integer({ min: 1000, max: 2400 }),
        (name, width, height) => {
          const small = layoutOf(name, width, height);
          if (small && name !== "boarded")
            expect(layoutOf(name, width + 50, height + 50)?.parts.length).toBe(small.parts.length);
        },
      ),
      { seed: 3, numRuns: 200 },
    );
  });
});
