import { copyFile, readFile } from "node:fs/promises";
import { join } from "node:path";
import { deflateSync } from "node:zlib";
import sharp from "sharp";
import { describe, expect, test } from "vitest";
import { examine } from "../../../server/images/examine.ts";
import { readTruth, samplePath } from "../../sample-images/sample-files.ts";
import {
  blackPng,
  brownJpeg,
  jpegOf,
  painted,
  type Rgb,
  sharpOf,
  storedTurned,
  withJpegSegment,
  withJpegSize,
  withPngChunk,
  writtenFile,
} from "../../support/photo-files.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";

const examined = async (bytes: Buffer | string, name?: string) => examine(await writtenFile(bytes, name));

/** A picture that compresses badly, so that every byte of its file matters. */
const busy = painted(1200, 900, (x, y): Rgb => [(x * 7 + y * 13) % 256, (x * y) % 256, (x * 3 + y) % 256]);
const busyJpeg = await jpegOf(busy);
const busyPng = await sharpOf(busy).png().toBuffer();
const progressive = await sharpOf(busy).jpeg({ progressive: true }).toBuffer();
const heic = await readFile(samplePath("good/s04-b.heic"));

/** What a sentence must tell the person to do. */
const doThis = /Send|Set the camera|Use the camera|Take/;

const sendAgain = /incomplete. Send it again/;
const jpegPlease = /Set the camera to JPEG/;
const fewerPixels = /12 megapixel mode/;
const notAPreview = /Send the original, not a preview/;

const tooManyScans = (): Buffer => {
  const at = progressive.indexOf(Buffer.from([0xff, 0xda]));
  const scan = progressive.subarray(at, at + 40);
  return Buffer.concat([progressive.subarray(0, at), ...Array<Buffer>(2080).fill(scan), progressive.subarray(at)]);
};

const dot = (format: "jpeg" | "png"): Promise<Buffer> =>
  sharp({ create: { width: 1, height: 1, channels: 3, background: "#8a6a50" } })
    .toFormat(format)
    .toBuffer();

describe("a file that is refused says why and what to do", () => {
  test.each<[string, 400 | 413 | 415 | 422, RegExp, () => Buffer | string | Promise<Buffer>]>([
    ["empty", 400, /empty/, () => ""],
    ["one byte", 415, jpegPlease, () => Buffer.from([0xff])],
    ["start and end of a JPEG only", 422, sendAgain, () => Buffer.from([0xff, 0xd8, 0xff, 0xd9])],
    ["a JPEG of one pixel", 422, notAPreview, () => dot("jpeg")],
    ["a PNG of one pixel", 422, notAPreview, () => dot("png")],
    ["a PNG of 65,000 x 65,000 bits", 413, fewerPixels, () => blackPng(65_000, 65_000, 1, 10)],
    ["a PNG of 16,000 x 16,000", 413, fewerPixels, () => blackPng(16_000, 16_000, 8, 10)],
    ["a 16-bit PNG of 10,000 x 10,000", 413, fewerPixels, () => blackPng(10_000, 10_000, 16, 10)],
    ["a PNG of 2^31 - 1 squared", 422, sendAgain, () => blackPng(2 ** 31 - 1, 2 ** 31 - 1, 8, 0)],
    ["a JPEG said to be 65,500 x 65,500", 413, fewerPixels, () => withJpegSize(busyJpeg, 65_500, 65_500)],
    ["a JPEG of 108 MP", 413, fewerPixels, () => withJpegSize(busyJpeg, 12_000, 9000)],
    ["a JPEG a little above the limit", 413, /65 megapixels/, () => withJpegSize(busyJpeg, 8001, 8000)],
    ["a JPEG with less picture than it says", 422, sendAgain, () => withJpegSize(busyJpeg, 7900, 7900)],
    ["a PNG one pixel high", 413, /65000 px long.*Take/, () => blackPng(65_000, 1, 8)],
    ["a JPEG of thousands of scans", 422, /own camera/, tooManyScans],
    ["a drawing", 415, jpegPlease, () => '<svg xmlns="http://www.w3.org/2000/svg" width="16000" height="16000"/>'],
    ["a PDF", 415, jpegPlease, () => "%PDF-1.7\n1 0 obj"],
    ["a page", 415, jpegPlease, () => "<!doctype html><script>alert(1)</script>"],
    ["a GIF", 415, jpegPlease, () => sharpOf(busy).gif({ effort: 1, colours: 4 }).toBuffer()],
    ["a TIFF", 415, jpegPlease, () => sharpOf(busy).tiff().toBuffer()],
    ["a WebP", 415, jpegPlease, () => sharpOf(busy).webp({ effort: 0 }).toBuffer()],
    ["a script", 415, jpegPlease, () => "#!/bin/sh\necho no\n"],
    ["a HEIC with nothing in it", 415, jpegPlease, () => heic.subarray(0, 32)],
    ["a HEIC cut in the middle", 415, jpegPlease, () => heic.subarray(0, heic.length >> 1)],
  ])("%s", async (_, status, sentence, make) => {
    const answer = await examined(await make());
    expect(answer).toEqual({ kind: "refused", status, why: expect.stringMatching(sentence) });
    const { why } = answer as { why: string };
    expect(why).toMatch(doThis);
    expect(why).toMatch(/^[A-Z].*\.$/);
    expect(why).not.toMatch(/\/tmp|Error|Vips|undefined|NaN/);
  });

  test.each([
    { kind: "JPEG", whole: busyJpeg },
    { kind: "progressive JPEG", whole: progressive },
    { kind: "PNG", whole: busyPng },
  ])("a $kind cut after 1, 50, 99 % or two bytes short", async ({ whole }) => {
    expect((await examined(whole)).kind).toBe("photo");
    for (const length of [0.01, 0.5, 0.99].map((share) => Math.floor(whole.length * share)).concat(whole.length - 2))
      expect(await examined(whole.subarray(0, length)), `${length} of ${whole.length} bytes`).toEqual({
        kind: "refused",
        status: 422,
        why: expect.stringMatching(sendAgain),
      });
  });

  test.each([
    { kind: "JPEG", whole: busyJpeg },
    { kind: "PNG", whole: busyPng },
  ])("a $kind with a sixth lost on the way, though its end is there", async ({ whole }) => {
    const [from, to] = [Math.floor(whole.length / 2), Math.floor((whole.length * 2) / 3)];
    const short = Buffer.concat([whole.subarray(0, from), whole.subarray(to)]);
    expect(await examined(short)).toEqual({ kind: "refused", status: 422, why: expect.stringMatching(sendAgain) });
  });

  test.each(["not-a-photo", "truncated"])("the sample of the gate %s", async (gate) => {
    const { failing } = await readTruth();
    const file = failing.find((one) => one.gate === gate)?.file ?? "";
    expect(await examine(samplePath(file))).toEqual({
      kind: "refused",
      status: gate === "truncated" ? 422 : 415,
      why: expect.stringMatching(gate === "truncated" ? sendAgain : jpegPlease),
    });
  });
});

describe("a photo that is kept", () => {
  const flagsOf = async (bytes: Buffer): Promise<string[]> => {
    const answer = await examined(bytes);
    if (answer.kind !== "photo") throw new Error(answer.why);
    return answer.flags;
  };
  const withProfile = (icc: Buffer): Buffer =>
    withJpegSegment(busyJpeg, 0xe2, Buffer.concat([Buffer.from("ICC_PROFILE\0\x01\x01", "latin1"), icc]));
  const unknown = "unknown colour profile: kept, colour not measured";
  const seeThrough = "see-through picture: kept, colour not measured";
  const printed = "print colours (CMYK): kept, colour not measured";
  const grey = "grey picture: kept, colour not measured";

  test.each<[string, string[], () => Buffer | Promise<Buffer>]>([
    ["a plain JPEG", [], () => busyJpeg],
    ["a 16-bit PNG", [], () => sharpOf(busy).toColourspace("rgb16").png().toBuffer()],
    ["a PNG with a palette", [], () => sharpOf(busy).png({ palette: true, effort: 1 }).toBuffer()],
    ["Display P3", [], () => sharpOf(busy).withIccProfile("p3").jpeg().toBuffer()],
    ["print colours", [printed], () => sharpOf(busy).toColourspace("cmyk").jpeg().toBuffer()],
    [
      "print colours with a profile",
      [printed, unknown],
      () => sharpOf(busy).toColourspace("cmyk").withIccProfile("cmyk").jpeg().toBuffer(),
    ],
    ["a grey JPEG", [grey], () => sharpOf(busy).toColourspace("b-w").jpeg().toBuffer()],
    ["a grey 16-bit PNG", [grey], () => sharpOf(busy).toColourspace("grey16").png().toBuffer()],
    ["half see-through", [seeThrough], () => sharpOf(busy).ensureAlpha(0.5).png().toBuffer()],
    ["see-through with hidden colours", [seeThrough], () => sharpOf(busy).ensureAlpha(0).png().toBuffer()],
    ["a JPEG with a damaged profile", [unknown], () => withProfile(Buffer.alloc(3000, 7))],
    [
      "a PNG with a damaged profile, which the reader drops",
      [unknown],
      () => withPngChunk(busyPng, "iCCP", Buffer.concat([Buffer.from("x\0\0", "latin1"), deflateSync("no profile")])),
    ],
    ["a panorama", ["panorama: kept, colour not measured"], () => brownJpeg(3100, 1000)],
    ["3 to 1 exactly", [], () => brownJpeg(3000, 1000)],
    ["junk after the end", [], () => Buffer.concat([busyJpeg, Buffer.alloc(5000, 0x5a)])],
    ["a second picture after the end", [], () => Buffer.concat([busyJpeg, busyJpeg])],
    ["a film after the end", [], () => Buffer.concat([busyJpeg, Buffer.alloc(400_000, Buffer.from([0xff, 0xda]))])],
  ])("%s", async (_, flags, make) => {
    expect(await flagsOf(await make())).toEqual(flags);
  });

  test("48 megapixels are taken", async () => {
    expect(await examined(await brownJpeg(8000, 6000))).toMatchObject({ kind: "photo", width: 8000, height: 6000 });
  });

  test("60 kB of junk where the camera writes its data changes nothing", async () => {
    const junk = Buffer.concat([Buffer.from("Exif\0\0", "latin1"), Buffer.alloc(60_000, 0xa5)]);
    expect(await examined(withJpegSegment(busyJpeg, 0xe1, junk))).toEqual({
      kind: "photo",
      width: 1200,
      height: 900,
      takenAt: null,
      camera: "unknown camera",
      flags: [],
    });
  });

  test("has the same upright size in all eight orientations", async () => {
    const upright = painted(60, 1040, () => [120, 90, 70]);
    for (let orientation = 1; orientation <= 8; orientation += 1) {
      const photo = await sharpOf(storedTurned(upright, orientation)).withMetadata({ orientation }).jpeg().toBuffer();
      expect(await examined(photo), `orientation ${orientation}`).toMatchObject({ width: 60, height: 1040 });
    }
  });

  test.each<[string, string | undefined, string | null]>([
    ["with its zone", "+01:00", "2026-03-03T10:52:10+01:00"],
    ["without a zone is no instant", undefined, null],
    ["with a zone that is none", "local", null],
  ])("its time %s", async (_, zone, takenAt) => {
    const exif = { DateTimeOriginal: "2026:03:03 10:52:10", ...(zone ? { OffsetTimeOriginal: zone } : {}) };
    const photo = await sharpOf(busy)
      .withExif({ IFD0: { Make: "Brannoch", Model: "P1" }, IFD2: exif })
      .jpeg()
      .toBuffer();
    expect(await examined(photo)).toMatchObject({ takenAt, camera: "Brannoch P1" });
  });

  test("a HEIC is read with its size, time and camera, whatever its name", async () => {
    const truth = (await readTruth()).photos.find(({ file }) => file === "good/s04-b.heic");
    const path = join(await temporaryFolder(), "photo.jpg");
    await copyFile(samplePath("good/s04-b.heic"), path);
    const [width, height] = truth?.size_px ?? [];
    expect(await examine(path)).toEqual({
      kind: "photo",
      width,
      height,
      takenAt: truth?.taken,
      camera: "Tarnside T4",
      flags: [],
    });
  });
});

test("every sample photo of a phone is taken without a word", async () => {
  const { photos } = await readTruth();
  for (const { file } of photos)
    expect(await examine(samplePath(file)), file).toMatchObject({ kind: "photo", flags: [] });
});
