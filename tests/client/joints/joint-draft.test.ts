import { describe, expect, test } from "vitest";
import { layoutOf } from "../../../analysis/patterns.ts";
import {
  draftOf,
  laidPattern,
  mouldingIn,
  putLine,
  putMoulding,
  stepBack,
} from "../../../client/joints/joint-draft.ts";
import type { Pattern } from "../../../server/contract/leaf.ts";
import { aPattern } from "../../support/leaves.ts";

const patternOf = (name: "four-panel" | "glazed", heightMm: number): Pattern => {
  const layout = layoutOf(name, 838, heightMm);
  if (!layout) throw new Error(`no ${name}`);
  return aPattern({
    heightMm,
    parts: layout.parts.map((part) => ({ ...part, rectMm: [...part.rectMm] })),
  });
};

/** Free height 1900 - 105 - 190 - 205 = 1400, four sevenths of it above: all places are whole mm. */
const fourPanel = patternOf("four-panel", 1900);
const begun = draftOf(fourPanel);
const [stile, muntin] = [0, 1];

const places = (draft: typeof begun): number[] => draft.places.linesMm.map(Math.round);
const rectOf = (pattern: Pattern, name: string) => pattern.parts.find((part) => part.name === name)?.rectMm;

describe("joints being laid", () => {
  test("begin where the pattern has them", () => {
    expect(places(begun)).toEqual([105, 369, 469, 733, 105, 905, 1095, 1695]);
    expect(mouldingIn(begun)).toBe(16);
    expect(laidPattern(begun)).toEqual(fourPanel);
  });

  test("are one step for one drag, however often it moves", () => {
    let draft = begun;
    for (const at of [100, 98, 96]) draft = putLine(draft, stile, at, "drag 1");
    draft = putLine(draft, stile, 97, "drag 2");
    expect([places(draft)[stile], draft.past.length]).toEqual([97, 2]);
    draft = stepBack(draft);
    expect(places(draft)[stile]).toBe(96);
    draft = stepBack(draft);
    expect([places(draft), draft.past.length]).toEqual([places(begun), 0]);
    expect(stepBack(draft)).toBe(draft);
  });

  test("are a step of their own again after one was taken back", () => {
    const once = putLine(begun, stile, 100, "keys");
    const again = putLine(stepBack(once), stile, 101, "keys");
    expect(again.past).toHaveLength(1);
    expect(places(stepBack(again))).toEqual(places(begun));
  });

  test("are not touched by a line that stays where it is", () => {
    expect(putLine(begun, stile, 105, "drag 1")).toBe(begun);
  });

  test("may be crossed and come apart again: each line stays its own", () => {
    const crossed = putLine(begun, stile, 369, "drag 1");
    const apart = putLine(crossed, muntin, 400, "drag 2");
    expect(places(apart).slice(0, 3)).toEqual([369, 400, 469]);
    expect(rectOf(laidPattern(apart), "stile-left")).toEqual([0, 0, 369, 1900]);
    expect(rectOf(laidPattern(apart), "muntin-top")?.slice(0, 3)).toEqual([400, 105, 69]);
  });

  test("take one moulding for all panels, and give it back", () => {
    const broad = putMoulding(putMoulding(begun, 2), 22);
    expect([mouldingIn(broad), broad.past.length]).toEqual([22, 1]);
    expect(rectOf(laidPattern(broad), "panel-top-left")?.slice(0, 3)).toEqual([127, 127, 220]);
    expect(laidPattern(stepBack(broad))).toEqual(fourPanel);
    expect(mouldingIn(draftOf(patternOf("glazed", 1981)))).toBeNull();
  });

  test("are told in tenths of a mm", () => {
    const odd = patternOf("four-panel", 2040);
    const told = laidPattern(draftOf(odd)).parts.flatMap(({ rectMm }) => rectMm);
    for (const [index, length] of odd.parts.flatMap(({ rectMm }) => rectMm).entries()) {
      expect(told[index]).toBeCloseTo(length, 0);
      expect(Number.isInteger(Math.round((told[index] ?? 0) * 1e6) / 1e5)).toBe(true);
    }
  });
});
