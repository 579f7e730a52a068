import sharp from "sharp";
import { describe, expect, test } from "vitest";
import { invert, project } from "../../../analysis/homography.ts";
import { crop } from "../../../server/images/crop.ts";
import { picturedInSrgb } from "../../../server/images/srgb-codes.ts";
import type { CropRequest } from "../../../server/site.ts";
import {
  jpegOf,
  type Picture,
  painted,
  pixelOf,
  type Rgb,
  sharpOf,
  withJpegSegment,
  writtenFile,
} from "../../support/photo-files.ts";

const faceMm = { widthMm: 800, heightMm: 1200 };
const wall: Rgb = [230, 230, 225];
const wood: Rgb = [140, 100, 70];
const patch: Rgb = [40, 90, 160];
/** A patch on the face, mm. */
const patchMm = { x: 300, y: 500, w: 160, h: 80 };

/** From photo to face, seen from one side and a little turned; the face of 800 x 1200 mm fills most of 1100 x 1500 px. */
const toFace = [1.02, 0.06, -130, -0.04, 1.1, -60, 2.2e-4, 1e-4, 0.86] as const;
const toPhoto = invert(toFace);

const inside = (x: number, y: number, box: { x: number; y: number; w: number; h: number }): boolean =>
  x >= box.x && x < box.x + box.w && y >= box.y && y < box.y + box.h;

const photo = painted(1100, 1500, (px, py) => {
  const [x, y] = project(toFace, [px + 0.5, py + 0.5]);
  if (inside(x, y, patchMm)) return patch;
  return inside(x, y, { x: 0, y: 0, w: faceMm.widthMm, h: faceMm.heightMm }) ? wood : wall;
});

const request = (box: CropRequest["box"], pxPerMm: number): CropRequest => ({
  ...faceMm,
  corners: [
    [0, 0],
    [faceMm.widthMm, 0],
    [faceMm.widthMm, faceMm.heightMm],
    [0, faceMm.heightMm],
  ].map(([x = 0, y = 0]) => project(toPhoto, [x, y])),
  box,
  pxPerMm,
});

const opened = async (jpeg: Buffer): Promise<Picture> => {
  const { data, info } = await sharp(jpeg).raw().toBuffer({ resolveWithObject: true });
  return { data, width: info.width, height: info.height };
};

/** The greatest difference of a pixel from a colour, codes. */
const offBy = (picture: Picture, x: number, y: number, colour: Rgb): number =>
  Math.max(...pixelOf(picture, x, y).map((code, i) => Math.abs(code - (colour[i] ?? NaN))));

/** What a photo's JPEG and the crop's JPEG round, together, codes. */
const nearly = 8;

describe("a box cut from a face", () => {
  test("comes back straight, in its size, with the patch where it is in mm", async () => {
    const path = await writtenFile(await jpegOf(photo));
    const box = { x: 260, y: 480, w: 240, h: 120 };
    const picture = await opened(await crop(path, request(box, 1.5)));
    expect([picture.width, picture.height]).toEqual([360, 180]);
    // The patch begins 40 mm and 20 mm into the box: 60 and 30 px. Two px either side of each edge the colours are plain.
    const [left, top, right, bottom] = [60, 30, 60 + 240, 30 + 120];
    for (const y of [top + 3, (top + bottom) / 2, bottom - 4])
      for (const x of [left + 3, (left + right) / 2, right - 4])
        expect(offBy(picture, x, y, patch), `patch at ${x}, ${y}`).toBeLessThan(nearly);
    for (const along of [0.1, 0.5, 0.9]) {
      const [x, y] = [Math.round(left + along * 240), Math.round(top + along * 120)];
      for (const [outX, outY] of [
        [x, top - 4],
        [x, bottom + 3],
        [left - 4, y],
        [right + 3, y],
      ] as const)
        expect(offBy(picture, outX, outY, wood), `wood at ${outX}, ${outY}`).toBeLessThan(nearly);
    }
  });

  test("may show the whole face, and none of the wall", async () => {
    const path = await writtenFile(await jpegOf(photo));
    const box = { x: 0, y: 0, w: faceMm.widthMm, h: faceMm.heightMm };
    const picture = await opened(await crop(path, request(box, 0.5)));
    expect([picture.width, picture.height]).toEqual([400, 600]);
    for (const [x, y] of [
      [2, 2],
      [397, 2],
      [397, 597],
      [2, 597],
    ] as const)
      expect(offBy(picture, x, y, wood), `${x}, ${y}`).toBeLessThan(nearly);
  });

  test("carries nothing of what the camera wrote", async () => {
    const secret = "SERIAL-4711-OWNER";
    const exif = { IFD0: { Artist: secret }, IFD3: { GPSLatitudeRef: "N" } };
    const source = await sharpOf(photo).withExif(exif).jpeg({ quality: 100 }).toBuffer();
    expect(source.includes(secret)).toBe(true);
    const cut = await crop(await writtenFile(source), request({ x: 0, y: 0, w: 100, h: 100 }, 1));
    expect(cut.includes(secret)).toBe(false);
    const { exif: left, xmp, iptc } = await sharp(cut).metadata();
    expect([left, xmp, iptc]).toEqual([undefined, undefined, undefined]);
  });

  test("of a Display P3 photo has the same colours, in sRGB", async () => {
    const { icc } = await sharp(await sharpOf(photo).withIccProfile("p3").png().toBuffer()).metadata();
    const profile = Buffer.concat([Buffer.from("ICC_PROFILE\0\x01\x01", "latin1"), icc ?? Buffer.alloc(0)]);
    const path = await writtenFile(withJpegSegment(await jpegOf(photo), 0xe2, profile));
    const cut = await crop(path, request({ x: 320, y: 520, w: 100, h: 40 }, 1));
    const picture = await opened(cut);
    const expected = picturedInSrgb({ data: Uint8Array.from(patch), encoding: "display-p3" });
    expect(expected[0]).toBeLessThan(patch[0] - 20);
    expect(offBy(picture, 50, 20, [...expected] as unknown as Rgb)).toBeLessThan(nearly);
  });

  test("cannot be cut by corners that span no area", async () => {
    const path = await writtenFile(await jpegOf(photo));
    const flat = { ...request({ x: 0, y: 0, w: 100, h: 100 }, 1), corners: [1, 2, 3, 4].map((i) => [i, i] as const) };
    await expect(crop(path, flat)).rejects.toThrow("do not span an area");
  });
});
