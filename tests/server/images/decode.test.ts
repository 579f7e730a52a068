import { converter } from "culori";
import sharp from "sharp";
import { describe, expect, test } from "vitest";
import { decode, openPhoto, preview, readThrough } from "../../../server/images/decode.ts";
import { readTruth, samplePath } from "../../sample-images/sample-files.ts";
import {
  asSeen,
  brownJpeg,
  jpegOf,
  painted,
  pixelOf,
  type Rgb,
  sharpOf,
  storedTurned,
  withJpegSegment,
  withPngChunk,
  writtenFile,
} from "../../support/photo-files.ts";

/** Four colours, one a quarter, so that every way of turning the picture shows. */
const quarters = painted(64, 96, (x, y): Rgb => {
  if (y < 48) return x < 32 ? [200, 60, 40] : [50, 160, 70];
  return x < 32 ? [40, 70, 190] : [210, 200, 90];
});

/** The greatest difference of two pictures of one size, codes. */
const furthest = (one: Uint8Array, other: Uint8Array): number =>
  one.reduce((most, code, i) => Math.max(most, Math.abs(code - (other[i] ?? Number.NaN))), 0);

describe("a decoded photo", () => {
  test.each([1, 2, 3, 4, 5, 6, 7, 8])("stands upright, stored in orientation %i", async (orientation) => {
    const stored = sharpOf(storedTurned(quarters, orientation)).withMetadata({ orientation });
    const { pixels } = await decode(await writtenFile(await stored.png().toBuffer()));
    expect([pixels.width, pixels.height]).toEqual([64, 96]);
    expect(furthest(asSeen(pixels).data, quarters.data)).toBe(0);
    const { pixels: lossy } = await decode(
      await writtenFile(await stored.jpeg({ quality: 100, chromaSubsampling: "4:4:4" }).toBuffer()),
    );
    // A JPEG of quality 100 keeps flat colours to 2 codes (measured).
    expect(furthest(asSeen(lossy).data, quarters.data)).toBeLessThanOrEqual(2);
  });

  test.each([0, 9, 255])("with an orientation that is none, %i, stays as it is stored", async (orientation) => {
    const photo = await sharpOf(quarters).withMetadata({ orientation: 6 }).jpeg().toBuffer();
    // The entry of the tag in a little-endian EXIF block: tag, type, count; the value follows.
    const entry = photo.indexOf(Buffer.from([0x12, 0x01, 0x03, 0x00, 0x01, 0x00, 0x00, 0x00, 0x06]));
    expect(entry).toBeGreaterThan(0);
    photo.writeUInt16LE(orientation, entry + 8);
    const { pixels } = await decode(await writtenFile(photo));
    expect([pixels.width, pixels.height]).toEqual([64, 96]);
  });

  test("keeps the code values of Display P3 and says so", async () => {
    const jpeg = await jpegOf(quarters);
    const { icc } = await sharp(await sharpOf(quarters).withIccProfile("p3").png().toBuffer()).metadata();
    const profile = Buffer.concat([Buffer.from("ICC_PROFILE\0\x01\x01", "latin1"), icc ?? Buffer.alloc(0)]);
    const { pixels, encoding } = await decode(await writtenFile(withJpegSegment(jpeg, 0xe2, profile)));
    expect([encoding, pixels.encoding]).toEqual(["display-p3", "display-p3"]);
    expect(furthest(pixels.data, quarters.data)).toBeLessThanOrEqual(2);
  });

  test("has no encoding with a profile that is unknown or damaged", async () => {
    const cmyk = await sharpOf(quarters).toColourspace("cmyk").withIccProfile("cmyk").jpeg().toBuffer();
    const png = await sharpOf(quarters).png().toBuffer();
    const dropped = withPngChunk(png, "iCCP", Buffer.from("x\0\0junk", "latin1"));
    for (const bytes of [cmyk, dropped]) expect((await decode(await writtenFile(bytes))).encoding).toBeNull();
    expect((await decode(await writtenFile(png))).encoding).toBe("srgb");
  });

  test("has three channels of 8 bits whatever was stored", async () => {
    const makes = [
      sharpOf(quarters).toColourspace("rgb16").png(),
      sharpOf(quarters).ensureAlpha(0.5).png(),
      sharpOf(quarters).png({ palette: true }),
    ];
    for (const make of makes) {
      const { pixels } = await decode(await writtenFile(await make.toBuffer()));
      expect(pixels.data.length).toBe(64 * 96 * 3);
      expect(furthest(pixels.data, quarters.data)).toBeLessThanOrEqual(1);
    }
    const grey = await sharpOf(quarters).toColourspace("b-w").jpeg().toBuffer();
    expect((await decode(await writtenFile(grey))).pixels.data.length).toBe(64 * 96 * 3);
  });

  test("that is damaged throws", async () => {
    const jpeg = await jpegOf(quarters);
    const half = jpeg.subarray(0, jpeg.length >> 1);
    await expect(decode(await writtenFile(half))).rejects.toThrow();
    await expect(readThrough(half)).rejects.toThrow();
    await expect(readThrough(jpeg)).resolves.toMatchObject({ oddHead: false });
  });

  test("of a HEIC is upright, with its colours", async () => {
    const truth = (await readTruth()).photos.find(({ file }) => file === "good/s04-b.heic");
    const { pixels, encoding } = await decode(samplePath("good/s04-b.heic"));
    expect(encoding).toBe("srgb");
    expect([pixels.width, pixels.height]).toEqual(truth?.size_px);
    // The grey card lies where the truth has it: as bright in the middle as a bit inside each of its corners.
    const [card] = truth?.references ?? [];
    const corners = card?.corners_px ?? [];
    const middle = [0, 1].map((k) => corners.reduce((sum, corner) => sum + (corner[k] ?? 0), 0) / 4);
    const at = ([x = 0, y = 0]: readonly number[]) => pixelOf(pixels, Math.floor(x), Math.floor(y));
    expect(corners).toHaveLength(4);
    for (const corner of corners) {
      const inside = corner.map((value, k) => value + 0.2 * ((middle[k] ?? 0) - value));
      expect(furthest(Uint8Array.from(at(inside)), Uint8Array.from(at(middle)))).toBeLessThan(20);
      const outside = corner.map((value, k) => value - 0.3 * ((middle[k] ?? 0) - value));
      expect(furthest(Uint8Array.from(at(outside)), Uint8Array.from(at(middle)))).toBeGreaterThan(30);
    }
  });
});

describe("only JPEG and PNG are opened", () => {
  test.each<[string, () => Promise<Buffer>]>([
    ["an SVG", async () => Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" width="64" height="64"/>')],
    ["a GIF", () => sharpOf(quarters).gif().toBuffer()],
    ["a WebP", () => sharpOf(quarters).webp().toBuffer()],
    ["a TIFF", () => sharpOf(quarters).tiff().toBuffer()],
  ])("%s named .jpg is not", async (_, make) => {
    const bytes = await make();
    const path = await writtenFile(bytes, "photo.jpg");
    const refused = /unsupported image format|blocked/;
    await expect(decode(path)).rejects.toThrow(refused);
    await expect(preview(path, 100)).rejects.toThrow(refused);
    await expect(openPhoto(bytes).toBuffer()).rejects.toThrow(refused);
  });
});

describe("a preview", () => {
  const secret = "SERIAL-4711-OWNER";

  test("is upright, no longer than asked, never enlarged", async () => {
    const photo = await writtenFile(
      await sharpOf(storedTurned(quarters, 6)).withMetadata({ orientation: 6 }).jpeg().toBuffer(),
    );
    const sizeOf = async (longestPx: number) => {
      const { width, height } = await sharp(await preview(photo, longestPx)).metadata();
      return [width, height];
    };
    expect(await sizeOf(48)).toEqual([32, 48]);
    expect(await sizeOf(4000)).toEqual([64, 96]);
  });

  test("carries nothing of what the camera wrote", async () => {
    const photo = await sharp(await brownJpeg())
      .withExif({ IFD0: { Artist: secret }, IFD3: { GPSLatitudeRef: "N", GPSLatitude: "51/1 30/1 0/1" } })
      .withXmp(`<x:xmpmeta xmlns:x="adobe:ns:meta/"><!-- ${secret} --></x:xmpmeta>`)
      .jpeg()
      .toBuffer();
    const commented = withJpegSegment(photo, 0xfe, Buffer.from(secret));
    expect(commented.toString("latin1").split(secret).length).toBeGreaterThan(3);
    const small = await preview(await writtenFile(commented), 400);
    expect(small.includes(secret)).toBe(false);
    const { exif, xmp, iptc } = await sharp(small).metadata();
    expect([exif, xmp, iptc]).toEqual([undefined, undefined, undefined]);
  });

  test("of a HEIC is a JPEG of the size asked, without metadata", async () => {
    const small = await preview(samplePath("good/s04-b.heic"), 400);
    expect(await sharp(small).metadata()).toMatchObject({ format: "jpeg", width: 300, height: 400, space: "srgb" });
    expect(small.includes("Tarnside")).toBe(false);
  });

  test("shows Display P3 in the colours of sRGB", async () => {
    const brown: Rgb = [170, 120, 80];
    const { icc } = await sharp(await sharpOf(quarters).withIccProfile("p3").png().toBuffer()).metadata();
    const profile = Buffer.concat([Buffer.from("ICC_PROFILE\0\x01\x01", "latin1"), icc ?? Buffer.alloc(0)]);
    const flat = await jpegOf(painted(64, 64, () => brown));
    const photo = await writtenFile(withJpegSegment(flat, 0xe2, profile));
    const { channels } = await sharp(await preview(photo, 64)).stats();
    const seen = converter("rgb")({ mode: "p3", r: brown[0] / 255, g: brown[1] / 255, b: brown[2] / 255 });
    // Two codes for what JPEG rounds, twice over.
    [seen.r, seen.g, seen.b].forEach((code, i) => {
      expect(Math.abs((channels[i]?.mean ?? Number.NaN) - 255 * code)).toBeLessThan(2);
    });
    expect((channels[0]?.mean ?? 0) - brown[0]).toBeGreaterThan(4);
  });
});
