import type { Vector3 } from "../algebra/matrix3.ts";
import type { Encoding } from "../pixels.ts";
import { logChannels, toCameraChannels } from "./log-channels.ts";
import { undoToneOfRgb } from "./tone.ts";

/** Mean light of a cell or patch as a photo has it to lightness and two colours, its tone undone. */
export const lightOf = (encoding: Encoding, strength: number) => {
  const toCamera = toCameraChannels(encoding);
  return (rgb: Vector3, spread: number): Vector3 => logChannels(toCamera, undoToneOfRgb(rgb, spread, strength));
};
