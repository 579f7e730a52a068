import { create, toBuffer } from "qrcode";
import sharp from "sharp";
import { describe, expect, test } from "vitest";
import { type Pixels, turnedPixels, uprightPixels } from "../../../analysis/pixels.ts";
import { type ReadCode, readCodes } from "../../../server/images/read-codes.ts";
import { storedTurned } from "../../support/photo-files.ts";

interface Label {
  readonly text: string;
  /** Place of the code's own top left corner, px; the paper round it reaches four modules further. */
  readonly x: number;
  readonly y: number;
  readonly pxPerModule: number;
}

/** Side of the code itself, px. */
const sideOf = ({ text, pxPerModule }: Label): number => create(text).modules.size * pxPerModule;

/** A brown picture with labels on it, turned by quarter turns clockwise afterwards. */
const pictured = async (labels: readonly Label[], turns = 0): Promise<Pixels> => {
  const wall = sharp({ create: { width: 1200, height: 900, channels: 3, background: "#8a6a50" } });
  const stuck = labels.map(async ({ text, x, y, pxPerModule }) => ({
    input: await toBuffer(text, { margin: 4, scale: pxPerModule }),
    left: x - 4 * pxPerModule,
    top: y - 4 * pxPerModule,
  }));
  const flat = await wall
    .composite(await Promise.all(stuck))
    .png()
    .toBuffer();
  const { data, info } = await sharp(flat)
    .rotate(90 * turns)
    .removeAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true });
  return uprightPixels(data, info.width, info.height, "srgb");
};

/**
 * The greatest distance from where it should be of the three corners with a finder pattern, px. The reader infers the
 * fourth, bottom right, and may be off by a module; nothing is measured from it.
 */
const farthest = ({ corners }: ReadCode, expected: readonly (readonly [number, number])[]): number =>
  Math.max(
    ...[0, 1, 3].map((i) => {
      const [[x, y] = [NaN, NaN], [atX, atY] = [NaN, NaN]] = [corners[i], expected[i]];
      return Math.hypot(x - atX, y - atY);
    }),
  );

const cornersOf = (label: Label): [number, number][] => {
  const { x, y } = label;
  const side = sideOf(label);
  return [
    [x, y],
    [x + side, y],
    [x + side, y + side],
    [x, y + side],
  ];
};

const always = () => true;
const never = () => false;

const large: Label = { text: "LL/7K3QD/1", x: 300, y: 200, pxPerModule: 8 };
/** At half size its modules are 1 px and lie across the pixels: it cannot be read there. */
const small: Label = { text: "LL/7K3QD/2", x: 701, y: 501, pxPerModule: 2 };

describe("a code in a photo", () => {
  test("is read at half size with its corners within 2 px", async () => {
    const [code, ...others] = await readCodes(await pictured([large]), always);
    expect(others).toEqual([]);
    expect(code?.text).toBe(large.text);
    if (code) expect(farthest(code, cornersOf(large))).toBeLessThan(2);
  });

  test("is read at full size with its corners within 1 px", async () => {
    const [code] = await readCodes(await pictured([small]), never);
    expect(code?.text).toBe(small.text);
    if (code) expect(farthest(code, cornersOf(small))).toBeLessThan(1);
  });

  test("turned upside down gives its own top left first", async () => {
    const [code] = await readCodes(await pictured([large], 2), always);
    const turned = cornersOf(large).map(([x, y]): [number, number] => [1200 - x, 900 - y]);
    if (code) expect(farthest(code, turned)).toBeLessThan(2);
    expect(code?.text).toBe(large.text);
  });
});

describe("a code in a photo stored turned or mirrored", () => {
  test.each([2, 3, 4, 5, 6, 7, 8])("lies where it is seen upright, orientation %i", async (orientation) => {
    const upright = await pictured([large, small]);
    const stored = storedTurned(upright, orientation);
    const codes = await readCodes(turnedPixels(stored.data, stored.width, stored.height, orientation, "srgb"), never);
    for (const [i, label] of [large, small].entries()) {
      const code = codes.find(({ text }) => text === label.text);
      expect(code && farthest(code, cornersOf(label))).toBeLessThan([2, 1][i] ?? 0);
    }
  });
});

describe("the size at which a photo is read", () => {
  test("is half when that is enough", async () => {
    const heard: string[][] = [];
    const codes = await readCodes(await pictured([large, small]), (half) => {
      heard.push(half.map(({ text }) => text));
      return true;
    });
    expect(heard).toEqual([[large.text]]);
    expect(codes.map(({ text }) => text)).toEqual([large.text]);
  });

  test("is full too when half is not enough, and no code comes twice", async () => {
    const codes = await readCodes(await pictured([large, small]), (half) => half.length >= 2);
    expect(codes.map(({ text }) => text)).toEqual([large.text, small.text]);
  });

  test("finds nothing where there is nothing", async () => {
    expect(await readCodes(await pictured([]), never)).toEqual([]);
  });
});
