import type { SpaceStrip } from "../../server/contract/views.ts";
import { figure, typedNumber } from "../words.ts";

type Look = NonNullable<SpaceStrip["space"]["look"]>;

/** How a space is seen, as it stands in the fields. */
export interface LookDraft {
  readonly weight: string;
  readonly walls: readonly (readonly string[])[];
  readonly gentle: "off" | NonNullable<Look["gentle"]>;
  readonly noLightBesideDark: boolean;
  /** Empty: as usual for the kind of space. */
  readonly marksCount: string;
}

/** Every two faces count alike: what the plan does without a look. */
const usual: LookDraft = { weight: "1", walls: [], gentle: "off", noLightBesideDark: false, marksCount: "" };

export const draftOf = (look: Look | undefined): LookDraft =>
  look
    ? {
        weight: String(look.weight),
        walls: look.walls,
        gentle: look.gentle ?? "off",
        noLightBesideDark: look.noLightBesideDark,
        marksCount: look.marksCount === null ? "" : String(look.marksCount),
      }
    : usual;

/** A number typed that lies from 0 to `most`; null for anything else. */
export const typedWeight = (text: string, most: number): number | null => {
  const value = typedNumber(text);
  return value !== null && value >= 0 && value <= most ? value : null;
};

/** What is saved: a look, null when all is as usual, or "wrong" while a number cannot be used. */
export const lookOf = (draft: LookDraft): Look | null | "wrong" => {
  const weight = typedWeight(draft.weight, 10);
  const marksCount = draft.marksCount.trim() === "" ? null : typedWeight(draft.marksCount, 1);
  if (weight === null || (marksCount === null && draft.marksCount.trim() !== "")) return "wrong";
  const { walls, gentle, noLightBesideDark } = draft;
  if (weight === 1 && marksCount === null && walls.length === 0 && gentle === "off" && !noLightBesideDark) return null;
  return {
    weight,
    walls: walls.map((wall) => [...wall]),
    gentle: gentle === "off" ? null : gentle,
    noLightBesideDark,
    marksCount,
  };
};

/** "counts 2.0, 2 walls, one way lighter" in short; what is as usual is not told. */
export const lookWords = ({ weight, walls, gentle, noLightBesideDark, marksCount }: LookDraft): string => {
  const [counts, marks] = [typedWeight(weight, 10), typedWeight(marksCount, 1)];
  const says = [
    counts !== null && counts !== 1 && `counts ${figure(counts, null)}`,
    walls.length > 0 && (walls.length === 1 ? "one wall" : `${walls.length} walls`),
    gentle !== "off" && `one way ${gentle}`,
    noLightBesideDark && "no light beside dark",
    marks !== null && `marks count ${figure(marks, null)}`,
  ].filter(Boolean);
  return says.length > 0 ? says.join(", ") : "as usual";
};
