import { type GrainTile, grainAt } from "./grain-tile.ts";
import { noise } from "./seeded.ts";

/** The veneers of the demo and how they were cut. */
export type Veneer = "walnut crown" | "ash quarter" | "sapele quarter";

/** Log of lightness against the mean of the part, at `across` and `along` the grain in mm. */
export type Figure = (across: number, along: number, seed: number) => number;

/** Fine dark pores, short along the grain. */
const pores = (across: number, along: number, lengthMm: number, seed: number): number =>
  -4 * Math.max(0, noise(across / 0.7, along / lengthMm, seed) - 0.45);

/** Crown-cut sheets 185 mm wide, book-matched: arches (parabolas that point up) in the middle, straight grain at the joints. */
const walnutCrown =
  (tile: GrainTile): Figure =>
  (across, along, seed) => {
    const sheet = Math.floor(across / 185.2);
    const local = across - (sheet + 0.5) * 185.2;
    const x = (sheet & 1 ? -local : local) + 14 + 16 * noise(along / 520, 0.5, seed + 7);
    const wave = 9 * noise(x / 75, along / 330, seed + 1) + 1.2 * noise(x / 16, along / 110, seed + 2);
    const ring = Math.sqrt(x * x + 420) * 1.15 - 0.055 * along + wave;
    const streak = noise(ring / 13, along / 1600, seed + 3) + 0.6 * noise(ring / 4.5, along / 900, seed + 4);
    return (
      0.04 * grainAt(tile, ring * 2.1 + (seed & 511), along * 0.32 + ((seed >> 9) & 511)) +
      0.058 * streak +
      0.022 * noise(across / 260, along / 520, seed + 5) +
      0.07 * pores(across, along, 11, seed + 6) +
      (sheet & 1 ? 0.008 : -0.008)
    );
  };

/** Quarter-cut sheets 138 mm wide, slip-matched: straight, close growth rings, the same in every sheet. */
const ashQuarter =
  (tile: GrainTile): Figure =>
  (across, along, seed) => {
    const sheet = Math.floor(across / 138);
    const x = across - sheet * 138;
    const lean = 4 * noise(x / 90, along / 700, seed + 1) + 0.6 * noise(x / 20, along / 160, seed + 2);
    const ring = x + lean + 0.012 * along;
    return (
      0.03 * grainAt(tile, ring * 1.5 + (seed & 255), along * 0.3 + ((seed >> 8) & 255)) +
      0.018 * noise(ring / 3.4, along / 1400, seed + 3) +
      0.016 * noise(ring / 21, along / 1200, seed + 4) +
      0.014 * noise(across / 300, along / 600, seed + 5) +
      0.04 * pores(across, along, 22, seed + 6)
    );
  };

/** Quarter-cut sapele: ribbons some 15 mm wide that change from light to dark along their length. */
const sapeleQuarter =
  (tile: GrainTile): Figure =>
  (across, along, seed) => {
    const lean = 3 * noise(across / 80, along / 400, seed + 1);
    const ribbon =
      noise((across + lean) / 15, along / 240, seed + 2) + 0.5 * noise((across + lean) / 6, along / 150, seed + 3);
    return (
      0.026 * grainAt(tile, (across + lean) * 1.7 + (seed & 255), along * 0.4 + ((seed >> 8) & 255)) +
      0.038 * ribbon +
      0.016 * noise(across / 240, along / 500, seed + 4) +
      0.07 * pores(across, along, 7, seed + 5)
    );
  };

/** How far the three channels follow the figure: dark grain is also browner. */
export const channelGain = [0.9, 1.02, 1.18] as const;

/** The figure of a veneer, drawn from the structure of a real tile. */
export const figureOf = (veneer: Veneer, tile: GrainTile): Figure => {
  switch (veneer) {
    case "walnut crown":
      return walnutCrown(tile);
    case "ash quarter":
      return ashQuarter(tile);
    case "sapele quarter":
      return sapeleQuarter(tile);
  }
};
