import { expect, test } from "vitest";
import { splitWindow, windowPatch } from "../../../analysis/sample/card-window.ts";
import type { PatchSample, ReferenceSample, Triple } from "../../../analysis/sample/photo-sample.ts";

const patch = (name: string, rgb: Triple, spread = 0.01): PatchSample => ({ name, rgb, spread, at: [0, 0], lost: 0 });
const sheet = (window: PatchSample): ReferenceSample => ({
  kind: "card",
  id: "card 7K3QD",
  patches: [patch("paper", [0.8, 0.76, 0.7]), patch("grey-50", [0.3, 0.28, 0.26]), window],
});

test("an even neutral window a fifth as light as the paper is a grey card", () => {
  const [card, grey] = splitWindow(sheet(patch(windowPatch, [0.17, 0.162, 0.15])), "grey");
  expect(card?.patches.map(({ name }) => name)).toEqual(["paper", "grey-50"]);
  expect(grey).toMatchObject({ kind: "grey", id: "grey", patches: [{ name: "grey", rgb: [0.17, 0.162, 0.15] }] });
});

test.each([
  ["empty paper", patch(windowPatch, [0.8, 0.76, 0.7])],
  ["wood behind it", patch(windowPatch, [0.24, 0.15, 0.07])],
  ["a chart, which is not even", patch(windowPatch, [0.17, 0.162, 0.15], 0.4)],
  ["something black", patch(windowPatch, [0.03, 0.03, 0.03])],
])("%s in the window is none, and the window is no patch of the sheet", (_, window) => {
  const split = splitWindow(sheet(window), "grey");
  expect(split).toHaveLength(1);
  expect(split[0]?.patches.some(({ name }) => name === windowPatch)).toBe(false);
});
