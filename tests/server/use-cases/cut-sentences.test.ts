import { expect, test } from "vitest";
import type { CutDifference } from "../../../analysis/grain/cut.ts";
import { type CutPair, cutSentences } from "../../../server/use-cases/cut-sentences.ts";

const pair = (a: string, b: string, difference: CutDifference): CutPair => ({
  a: { leaf: a, face: "A" },
  b: { leaf: b, face: "B" },
  difference,
});

test("nothing is said where nothing differs", () => {
  expect(cutSentences([])).toEqual([]);
});

test("crown beside straight names the faces of each", () => {
  const panels = { kind: "panel", what: "figure", one: "crown", other: "straight" } as const;
  expect(cutSentences([pair("W03", "W07", panels), pair("W01", "W07", panels), pair("W03", "W08", panels)])).toEqual([
    "Panels: crown on W01 A, W03 A, straight on W07 B, W08 B.",
  ]);
});

test("lean and pitch name the pair that shows them most", () => {
  const lean = (one: number, other: number) => ({ kind: "stile", what: "direction", one, other }) as const;
  const pitch = (one: number, other: number) => ({ kind: "face", what: "pitch", one, other }) as const;
  expect(
    cutSentences([
      pair("W01", "W02", lean(0, 6)),
      pair("W03", "W04", lean(86, -87)),
      pair("W01", "W02", pitch(4, 7)),
      pair("W05", "W06", pitch(5.6, 12.2)),
    ]),
  ).toEqual([
    "Stiles: grain leans 7° apart on W03 A and W04 B.",
    "Cut: lines every 6 mm on W05 A, every 12 mm on W06 B.",
  ]);
});
