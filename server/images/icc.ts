import { decodeCurve } from "../../analysis/colour/encoding.ts";
import type { Encoding } from "../../analysis/pixels.ts";

/** Media-relative colorants of the red, green and blue primary, adapted to D50. From the ICC profiles of both spaces. */
const COLORANTS: Readonly<Record<Encoding, readonly number[]>> = {
  srgb: [0.4361, 0.2225, 0.0139, 0.3851, 0.7169, 0.0971, 0.1431, 0.0606, 0.7141],
  "display-p3": [0.5151, 0.2412, -0.0011, 0.292, 0.6922, 0.0419, 0.1571, 0.0666, 0.7841],
};

/** Largest deviation of one colorant that still names a space; the two spaces differ by up to 0.09. */
const NEAR = 0.008;

/** Largest deviation of the tone curve from that of sRGB, in light 0..1: a plain power of 2.2 passes, 2.0 and 2.4 do not. */
const NEAR_CURVE = 0.012;

/** Code values 0..1 at which a tone curve is looked at. */
const CODES = [0.1, 0.25, 0.5, 0.75, 0.9] as const;

const s15Fixed16 = (profile: Buffer, at: number): number => profile.readInt32BE(at) / 65536;

/** Where the content of a tag begins. */
const tagAt = (profile: Buffer, name: string): number | undefined => {
  const entry = [...Array(Math.min(profile.readUInt32BE(128), 100)).keys()].find(
    (i) => profile.toString("latin1", 132 + 12 * i, 136 + 12 * i) === name,
  );
  return entry === undefined ? undefined : profile.readUInt32BE(132 + 12 * entry + 4);
};

/** Light of a code value by a "curv" tag: the identity, a power, or a table that is read between its entries. */
const sampledCurve = (profile: Buffer, at: number, code: number): number => {
  const count = profile.readUInt32BE(at + 8);
  if (count === 0) return code;
  if (count === 1) return code ** (profile.readUInt16BE(at + 12) / 256);
  const entry = (i: number) => profile.readUInt16BE(at + 12 + 2 * i) / 65535;
  const [place, last] = [code * (count - 1), count - 1];
  const low = Math.min(Math.floor(place), last - 1);
  return entry(low) + (place - low) * (entry(low + 1) - entry(low));
};

/** Light of a code value by a "para" tag: a power, with a straight foot from its fourth kind on. */
const parametricCurve = (profile: Buffer, at: number, code: number): number => {
  const kind = profile.readUInt16BE(at + 8);
  const [g, a, b, c, d, e, f] = [0, 1, 2, 3, 4, 5, 6].map((i) =>
    at + 16 + 4 * i <= profile.length ? s15Fixed16(profile, at + 12 + 4 * i) : 0,
  ) as [number, number, number, number, number, number, number];
  if (kind === 0) return code ** g;
  if (kind === 3) return code >= d ? (a * code + b) ** g : c * code;
  if (kind === 4) return code >= d ? (a * code + b) ** g + e : c * code + f;
  return Number.NaN; // kinds 1 and 2 lift the black: no photo of ours has them
};

const curveOf = (profile: Buffer, at: number): ((code: number) => number) => {
  const kind = profile.toString("latin1", at, at + 4);
  if (kind === "curv") return (code) => sampledCurve(profile, at, code);
  return kind === "para" ? (code) => parametricCurve(profile, at, code) : () => Number.NaN;
};

const colorants = (profile: Buffer): number[] | null => {
  const found: number[] = [];
  for (const name of ["rXYZ", "gXYZ", "bXYZ"]) {
    const at = tagAt(profile, name);
    if (at === undefined) return null;
    found.push(s15Fixed16(profile, at + 8), s15Fixed16(profile, at + 12), s15Fixed16(profile, at + 16));
  }
  return found;
};

/** Whether red, green and blue are encoded by the curve of sRGB, which Display P3 shares. */
const hasOurCurves = (profile: Buffer): boolean =>
  ["rTRC", "gTRC", "bTRC"].every((name) => {
    const at = tagAt(profile, name);
    if (at === undefined) return false;
    const light = curveOf(profile, at);
    return CODES.every((code) => Math.abs(light(code) - decodeCurve(code)) < NEAR_CURVE);
  });

/** Made for a display and for RGB: a scanner's or a printer's profile tells of another machine than the one that took the photo. */
const isOfDisplay = (profile: Buffer): boolean =>
  profile.toString("latin1", 12, 20) === "mntrRGB " && profile.toString("latin1", 36, 40) === "acsp";

/**
 * Which space an ICC profile describes, told by its primaries and curves, not by its name; null when it is neither of
 * ours, is of another kind of machine, or is damaged. No profile at all means sRGB. Layout: ICC.1 (tag table at byte
 * 128, s15Fixed16 numbers, class at 12, curve types "curv" and "para"), from memory.
 */
export const encodingOf = (profile: Buffer | undefined): Encoding | null => {
  if (!profile) return "srgb";
  try {
    const seen = isOfDisplay(profile) && hasOurCurves(profile) ? colorants(profile) : null;
    if (!seen) return null;
    const near = (space: Encoding) => COLORANTS[space].every((value, i) => Math.abs(value - (seen[i] ?? 9)) < NEAR);
    return near("srgb") ? "srgb" : near("display-p3") ? "display-p3" : null;
  } catch {
    return null;
  }
};
