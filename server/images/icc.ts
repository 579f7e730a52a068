import type { Encoding } from "../../analysis/pixels.ts";

/** Media-relative colorants of the red, green and blue primary, adapted to D50. From the ICC profiles of both spaces. */
const COLORANTS: Readonly<Record<Encoding, readonly number[]>> = {
  srgb: [0.4361, 0.2225, 0.0139, 0.3851, 0.7169, 0.0971, 0.1431, 0.0606, 0.7141],
  "display-p3": [0.5151, 0.2412, -0.0011, 0.292, 0.6922, 0.0419, 0.1571, 0.0666, 0.7841],
};

/** Largest deviation of one colorant that still names a space; the two spaces differ by up to 0.09. */
const NEAR = 0.008;

const s15Fixed16 = (profile: Buffer, at: number): number => profile.readInt32BE(at) / 65536;

const colorants = (profile: Buffer): number[] | null => {
  const found: number[] = [];
  for (const name of ["rXYZ", "gXYZ", "bXYZ"]) {
    const count = profile.readUInt32BE(128);
    const entry = [...Array(Math.min(count, 100)).keys()].find(
      (i) => profile.toString("latin1", 132 + 12 * i, 136 + 12 * i) === name,
    );
    if (entry === undefined) return null;
    const at = profile.readUInt32BE(132 + 12 * entry + 4);
    found.push(s15Fixed16(profile, at + 8), s15Fixed16(profile, at + 12), s15Fixed16(profile, at + 16));
  }
  return found;
};

/**
 * Which space an ICC profile describes, told by its primaries, not by its name; null when it is neither of ours or is
 * damaged. No profile at all means sRGB. Layout: ICC.1 (tag table at byte 128, s15Fixed16 numbers), from memory.
 */
export const encodingOf = (profile: Buffer | undefined): Encoding | null => {
  if (!profile) return "srgb";
  try {
    const seen = colorants(profile);
    if (!seen) return null;
    const near = (space: Encoding) => COLORANTS[space].every((value, i) => Math.abs(value - (seen[i] ?? 9)) < NEAR);
    return near("srgb") ? "srgb" : near("display-p3") ? "display-p3" : null;
  } catch {
    return null;
  }
};
