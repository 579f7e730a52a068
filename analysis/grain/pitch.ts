import { median } from "../algebra/robust.ts";
import type { PartField } from "./part-field.ts";
import { mostAsStrong } from "./windows.ts";

/** Least correlation with itself, one pitch on, for lines to count as repeating. */
const leastRepeat = 0.1;

/** How the profile across a band of 12 mm is like itself so many cells on, none to 40 mm. */
export interface Band {
  /** Where along the part, 0..1. */
  readonly place: number;
  readonly like: Float64Array;
}

/** The bands of a part along the grain. */
export const bandsOf = ({ along, across, mmPerCell }: PartField, detail: Float32Array): Band[] => {
  const width = Math.max(1, Math.round(12 / mmPerCell));
  const most = Math.min(Math.round(40 / mmPerCell), across - 2);
  const profile = new Float64Array(across);
  return Array.from({ length: Math.floor(along / width) }, (_, band) => {
    const like = new Float64Array(most + 1);
    profile.fill(0);
    for (let row = 0; row < across; row++)
      for (let i = band * width; i < (band + 1) * width; i++) profile[row]! += detail[row * along + i]!;
    for (let lag = 0; lag <= most; lag++) {
      let sum = 0;
      for (let row = 0; row + lag < across; row++) sum += profile[row]! * profile[row + lag]!;
      like[lag] = sum / (across - lag);
    }
    return { place: ((band + 0.5) * width) / along, like };
  });
};

/** First lag at which the profile is like itself again (autocorrelation), bands much stronger than the usual one made weaker. */
export const pitchOf = ({ mmPerCell }: PartField, bands: readonly Band[]): number | null => {
  const usual = median(bands.map(({ like }) => like[0]!));
  const most = (bands[0]?.like.length ?? 1) - 1;
  const like = new Float64Array(most + 1);
  for (const band of bands) {
    const share = Math.min(1, (mostAsStrong * usual) / Math.max(band.like[0]!, 1e-9));
    for (let lag = 0; lag <= most; lag++) like[lag]! += share * band.like[lag]!;
  }
  let lag = 1;
  while (lag < most && like[lag]! > like[lag + 1]!) lag++;
  while (lag < most && like[lag]! <= like[lag + 1]!) lag++;
  if (lag >= most || like[lag]! < leastRepeat * like[0]!) return null;
  const [before, peak, after] = [like[lag - 1]!, like[lag]!, like[lag + 1]!];
  return (lag + (before - after) / (2 * (before - 2 * peak + after))) * mmPerCell;
};
