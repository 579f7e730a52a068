import type { TyingPhoto } from "../../analysis/solve/least-ties.ts";

/** "W03 face A" of "W03/A". */
const faceWords = (face: string): string => face.replace("/", " face ");

/** "W03 face A beside W07 face B", or all but the last with commas. */
const inRow = (faces: readonly string[]): string => {
  const words = faces.map(faceWords);
  return words.length === 2
    ? words.join(" beside ")
    : `${words.slice(0, -1).join(", ")} and ${words.at(-1)} side by side`;
};

/** A photo that would tie what nothing ties together, as a sentence to a person. */
export const tieSentence = ({ faces, with: reference }: TyingPhoto): string => {
  if (reference === null) return `Photograph ${inRow(faces)}: that one photo ties them to the rest.`;
  const [face = ""] = faces;
  if (reference === "known")
    return `Photograph ${faceWords(face)} with a chart or a grey card: that one photo ties it to the rest.`;
  if (reference === "one-card")
    return `Photograph ${faceWords(face)} with the printed card, the same sheet in every photo.`;
  return `Photograph ${faceWords(face)} with printed ${reference.card}: that one photo ties it to the rest.`;
};
