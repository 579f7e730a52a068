import { expect, test } from "vitest";
import type { TyingPhoto } from "../../../analysis/solve/least-ties.ts";
import { tieSentence } from "../../../server/use-cases/tie-sentence.ts";

test.each<[TyingPhoto, string]>([
  [
    { faces: ["W03/A", "W07/B"], with: null },
    "Photograph W03 face A beside W07 face B: that one photo ties them to the rest.",
  ],
  [
    { faces: ["W03/A", "W07/B", "A02/A"], with: null },
    "Photograph W03 face A, W07 face B and A02 face A side by side: that one photo ties them to the rest.",
  ],
  [
    { faces: ["W03/A"], with: "known" },
    "Photograph W03 face A with a chart or a grey card: that one photo ties it to the rest.",
  ],
  [
    { faces: ["W03/A"], with: { card: "card 7K3QD" } },
    "Photograph W03 face A with printed card 7K3QD: that one photo ties it to the rest.",
  ],
  [
    { faces: ["W03/A"], with: "one-card" },
    "Photograph W03 face A with the printed card, the same sheet in every photo.",
  ],
])("%j", (tie, says) => {
  expect(tieSentence(tie)).toBe(says);
});
