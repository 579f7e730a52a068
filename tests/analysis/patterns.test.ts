import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { FaceLayout, Part } from "../../analysis/leaf-parts.ts";
import { layoutOf, patternNames } from "../../analysis/patterns.ts";

const sizes = [
  [926, 2040],
  [838, 1981],
  [610, 1981],
] as const;

type Kinds = Partial<Record<Part["kind"], number>>;

const kindsOf = ({ parts }: FaceLayout): Kinds => {
  const kinds: Kinds = {};
  for (const { kind } of parts) kinds[kind] = (kinds[kind] ?? 0) + 1;
  return kinds;
};

/** Draws a face: for each square of 1 mm, row by row, how many parts lie on its middle. */
const drawn = ({ widthMm, heightMm, parts }: FaceLayout): Uint8Array => {
  const count = new Uint8Array(widthMm * heightMm);
  for (const {
    rectMm: [x, y, w, h],
  } of parts)
    for (let row = Math.round(y); row < Math.round(y + h); row++)
      for (let column = Math.round(x); column < Math.round(x + w); column++) count[row * widthMm + column]! += 1;
  return count;
};

/** Moulding round a panel, mm: as the patterns have it. */
const mouldingMm = 16;

const panelled = (stile: number, muntin: number, rail: number, panel: number): Kinds => ({
  stile,
  ...(muntin > 0 && { muntin }),
  rail,
  ...(panel > 0 && { panel }),
});

describe("patterns", () => {
  test.each([
    ["flush", { face: 1 }],
    ["one-panel", panelled(2, 0, 2, 1)],
    ["two-panel", panelled(2, 1, 2, 2)],
    ["three-panel", panelled(2, 0, 4, 3)],
    ["four-panel", panelled(2, 2, 3, 4)],
    ["six-panel", panelled(2, 3, 4, 6)],
    ["five-horizontal", panelled(2, 0, 6, 5)],
    ["boarded", { board: 8 }],
    ["ladder", panelled(2, 0, 5, 4)],
    ["glazed", panelled(2, 0, 2, 0)],
  ] as const)("%s has the parts of the trade", (name, kinds) => {
    const layout = layoutOf(name, 926, 2040);
    expect(layout && kindsOf(layout)).toEqual(kinds);
  });

  test("are the ten by these names, and no other", () => {
    expect(patternNames).toHaveLength(10);
  });

  test.each(patternNames)("%s, drawn, leaves nothing bare but the mouldings round its panels, or its glass", (name) => {
    for (const [widthMm, heightMm] of sizes) {
      const layout = layoutOf(name, widthMm, heightMm);
      if (!layout) throw new Error(`no ${name} of ${widthMm} x ${heightMm}`);
      const count = drawn(layout);
      const panels = layout.parts.filter(({ kind }) => kind === "panel");
      const bare = count.reduce((sum, parts) => sum + (parts === 0 ? 1 : 0), 0);
      expect(count.toSorted().at(-1), "parts on one place").toBe(1);
      const glass = name === "glazed" ? (widthMm - 2 * 105) * (heightMm - 105 - 205) : 0;
      const mouldings = panels.reduce(
        (sum, { rectMm: [, , w, h] }) => sum + 2 * mouldingMm * (w + h + 2 * mouldingMm),
        0,
      );
      expect(Math.abs(bare - glass - mouldings) / (widthMm * heightMm)).toBeLessThan(0.002);
      for (const {
        rectMm: [x, y, w, h],
      } of panels)
        for (const beyond of [3, mouldingMm - 3, mouldingMm + 3]) {
          const parts = beyond > mouldingMm ? 1 : 0;
          const places = [
            [x - beyond, y + h / 2],
            [x + w + beyond, y + h / 2],
            [x + w / 2, y - beyond],
            [x + w / 2, y + h + beyond],
          ];
          for (const [left = 0, top = 0] of places)
            expect(count[Math.floor(top) * widthMm + Math.floor(left)], `${beyond} mm off a panel`).toBe(parts);
        }
    }
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
