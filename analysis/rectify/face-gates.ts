import { apply3 } from "../algebra/matrix3.ts";
import { nthSmallest } from "../algebra/nth-smallest.ts";
import { srgbToXyz, toSrgbPrimaries } from "../colour/encoding.ts";
import { xyzToLab65 } from "../colour/lab.ts";
import { type GateResult, judge } from "../intake/gate-limits.ts";
import { viewAngle } from "../locate/rectangle-shape.ts";
import type { Encoding, Quad } from "../pixels.ts";
import type { FaceGrid } from "./resample.ts";

/** Photo and outline that a face grid was made from. */
export interface FacePlacement {
  readonly corners: Quad;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly heightMm: number;
  readonly encoding: Encoding;
}

/** The gates that need a leaf's outline: is it whole, large, square, evenly lit and not washed out. */
export const judgeFace = (grid: FaceGrid, placement: FacePlacement): readonly GateResult[] => {
  const { corners, widthPx, heightPx, heightMm, encoding } = placement;
  const [a, b, c, d] = corners;
  const inside = Math.min(...corners.map(([x, y]) => Math.min(x, y, widthPx - x, heightPx - y)));
  const pxPerMm = Math.hypot(c[0] + d[0] - a[0] - b[0], c[1] + d[1] - a[1] - b[1]) / (2 * heightMm);
  const clipped = judge("face-clipped", clippedShare(grid));
  const geometry = [
    judge("cut-off", inside),
    judge("face-scale", pxPerMm),
    judge("too-oblique", viewAngle(corners, { width: widthPx, height: heightPx })),
    clipped,
  ];
  // Clipped wood has lost its colour: neither glare nor a second light can be told from it.
  if (!clipped.passed) return geometry;
  const tiles = tilesOf(grid);
  const { glare, clear } = partGlare(tiles);
  return [
    ...geometry,
    judge("glare", tiles.length > 0 ? glare.length / tiles.length : 0),
    judge("mixed-light", lightColourChange(clear, encoding)),
  ];
};

const clippedShare = ({ usable }: FaceGrid): number => {
  let lost = 0;
  for (let i = 0; i < usable.length; i++) lost += 1 - usable[i]!;
  return lost / usable.length;
};

/** Means over squares of about 24 mm, so that grain is averaged out: place from -1 to 1, log of linear R, G and B. */
interface Tile {
  readonly u: number;
  readonly v: number;
  readonly r: number;
  readonly g: number;
  readonly b: number;
}

const tileMm = 24;

/** Cells finer than this are passed over: a hundred and more are left in a tile. */
const finestMm = 2;

/** Light below this is noise: 0.2 % of full scale is half an 8-bit step. */
const darkest = 0.002;

const tilesOf = ({ data, usable, width, height, mmPerCell }: FaceGrid): Tile[] => {
  const side = Math.max(1, Math.round(tileMm / mmPerCell));
  const stride = Math.max(1, Math.round(finestMm / mmPerCell));
  const tiles: Tile[] = [];
  for (let top = 0; top + side <= height; top += side) {
    for (let left = 0; left + side <= width; left += side) {
      let n = 0;
      let r = 0;
      let g = 0;
      let b = 0;
      for (let y = top; y < top + side; y += stride) {
        for (let i = y * width + left; i < y * width + left + side; i += stride) {
          if (usable[i] === 0) continue;
          n++;
          r += data[i * 3]!;
          g += data[i * 3 + 1]!;
          b += data[i * 3 + 2]!;
        }
      }
      if (n < (side / stride) ** 2 / 2) continue;
      tiles.push({
        u: ((left + side / 2) / width) * 2 - 1,
        v: ((top + side / 2) / height) * 2 - 1,
        r: Math.log(r / n + darkest),
        g: Math.log(g / n + darkest),
        b: Math.log(b / n + darkest),
      });
    }
  }
  return tiles;
};

/** How much paler (log red over blue) and brighter (log green) than the wood under no glare a tile must be to lie under glare. */
const paler = 0.2;
const brighter = 0.1;

/** A tile that is paler by this share of that is under the fringe of glare: it tells nothing of a second light. */
const fringe = 0.2;

/** Glare adds a light of its own, red with the blue; a second light takes red where it adds blue. Least red added for the blue added. */
const leastRed = 0.5;

/**
 * Parts the tiles that mirror a light from those that are clear of it: glare adds the light's own white, so wood under it is paler
 * and brighter at once, in red as in blue. The wood itself is taken from the most coloured fifth, which glare cannot make.
 */
const partGlare = (tiles: readonly Tile[]): { glare: Tile[]; clear: Tile[] } => {
  const depth = quantile(
    tiles.map(({ r, b }) => r - b),
    0.8,
  );
  const wood = tiles.filter(({ r, b }) => Math.abs(r - b - depth) < paler / 2);
  const middle = (channel: (tile: Tile) => number): number => Math.exp(quantile(wood.map(channel), 0.5));
  const [red, green, blue] = [middle(({ r }) => r), middle(({ g }) => g), middle(({ b }) => b)];
  const lies = (tile: Tile, share: number): boolean =>
    tile.r - tile.b < depth - share * paler &&
    tile.g > Math.log(green) + share * brighter &&
    Math.exp(tile.r) - red > leastRed * (Math.exp(tile.b) - blue);
  return { glare: tiles.filter((tile) => lies(tile, 1)), clear: tiles.filter((tile) => !lies(tile, fringe)) };
};

/**
 * How far the colour of the light changes from one end of the face to the other, as a distance in a*b* at the face's mean
 * colour: planes through log(red/green) and log(blue/green), taken by medians of bands so that panels and glare do not pull.
 */
const lightColourChange = (tiles: readonly Tile[], encoding: Encoding): number => {
  if (tiles.length < 12) return 0;
  const mean = [
    quantile(
      tiles.map(({ r }) => r),
      0.5,
    ),
    quantile(
      tiles.map(({ g }) => g),
      0.5,
    ),
    quantile(
      tiles.map(({ b }) => b),
      0.5,
    ),
  ] as const;
  const across = slope(tiles, ({ u }) => u);
  const down = slope(tiles, ({ v }) => v);
  const ends = [1, -1].map((sign) => {
    const red = across.red + sign * down.red;
    const blue = across.blue + sign * down.blue;
    const one = labOf([mean[0] + red, mean[1], mean[2] + blue], encoding);
    const other = labOf([mean[0] - red, mean[1], mean[2] - blue], encoding);
    return Math.hypot(one[1] - other[1], one[2] - other[2]);
  });
  return Math.max(...ends);
};

/** Change of log(red/green) and log(blue/green) for a step of 1 along an axis: outer thirds against each other. */
const slope = (tiles: readonly Tile[], along: (tile: Tile) => number): { red: number; blue: number } => {
  const low = tiles.filter((tile) => along(tile) < -1 / 3);
  const high = tiles.filter((tile) => along(tile) > 1 / 3);
  // The middles of the outer thirds are 4/3 apart.
  const change = (value: (tile: Tile) => number): number =>
    (quantile(high.map(value), 0.5) - quantile(low.map(value), 0.5)) / (4 / 3);
  return { red: change(({ r, g }) => r - g), blue: change(({ b, g }) => b - g) };
};

const labOf = (logs: readonly [number, number, number], encoding: Encoding) => {
  const rgb = [Math.exp(logs[0]), Math.exp(logs[1]), Math.exp(logs[2])] as const;
  return xyzToLab65(apply3(srgbToXyz, apply3(toSrgbPrimaries(encoding), rgb)));
};

const quantile = (values: readonly number[], share: number): number =>
  values.length > 0 ? nthSmallest(new Float64Array(values), Math.floor(share * (values.length - 1))) : 0;
