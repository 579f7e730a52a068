import type { PhotoSample } from "../sample/photo-sample.ts";
import { printedTones } from "./known-references.ts";
import { model } from "./model-constants.ts";
import { lightOf } from "./observed-light.ts";

/** One grey of a printed card against the card's paper, as a photo has it once a tone of this strength is undone: log of light. */
export interface PrintedStep {
  /** Card and patch: the same print in every photo of that card. */
  readonly print: string;
  readonly camera: string;
  /** What the print was meant to be. */
  readonly nominal: number;
  readonly seen: (strength: number) => number;
}

const paper = "paper-left";

/** The grey steps of printed cards. Nobody knows how dark they came out, but each is the same in all photos of the card. */
export const printedSteps = (photos: readonly PhotoSample[]): PrintedStep[] =>
  photos.flatMap(({ camera, encoding, references }) =>
    references.flatMap(({ kind, id, patches }) => {
      const usable = kind === "card" ? patches.filter(({ lost }) => lost <= model.lostPatch) : [];
      const white = usable.find(({ name }) => name === paper);
      if (!white) return [];
      return usable.flatMap(({ name, rgb, spread }): PrintedStep[] => {
        const tone = printedTones[name];
        if (tone === undefined || name.startsWith("paper")) return [];
        const seen = (strength: number) => {
          const light = lightOf(encoding, strength);
          return light(rgb, spread)[0] - light(white.rgb, white.spread)[0];
        };
        return [{ print: `${id}/${name}`, camera, nominal: Math.log(tone / (printedTones[paper] ?? 1)), seen }];
      });
    }),
  );
