import { readFile } from "node:fs/promises";
import sharp from "sharp";
import { describe, expect, test } from "vitest";
import { fileKind, jpegShape, pngShape } from "../../../server/images/file-kind.ts";
import { samplePath } from "../../sample-images/sample-files.ts";
import { blackPng, brownJpeg, withJpegSegment, withPngChunk } from "../../support/photo-files.ts";

const startOfScan = Buffer.from([0xff, 0xda]);

describe("what a file is", () => {
  test("is told by its content", async () => {
    expect(fileKind(await brownJpeg())).toBe("jpeg");
    expect(fileKind(blackPng(8, 8, 8))).toBe("png");
    expect(fileKind(await readFile(samplePath("good/s04-b.heic")))).toBe("heic");
    expect(fileKind(await readFile(samplePath("failing/not-a-photo.jpg")))).toBe("other");
  });

  test.each<[string, string]>([
    ["nothing", ""],
    ["one byte", "\xff"],
    ["a drawing", '<svg xmlns="http://www.w3.org/2000/svg"/>'],
    ["a page", "<!doctype html>"],
    ["a PDF", "%PDF-1.7\n"],
    ["a GIF", "GIF89a\x01\0\x01\0"],
    ["a TIFF", "II*\0\x08\0\0\0"],
    ["a WebP", "RIFF\x24\0\0\0WEBPVP8 "],
    ["an AVIF", "\0\0\0\x1cftypavif\0\0\0\0"],
    ["a film", "\0\0\0\x1cftypisom\0\0\0\0"],
    ["a bitmap", "BM\x36\0\0\0"],
    ["a ZIP", "PK\x03\x04"],
    ["a script", "#!/bin/sh\n"],
  ])("is none of ours for %s", (_, content) => {
    expect(fileKind(Buffer.from(content, "latin1"))).toBe("other");
  });
});

describe("the shape of a JPEG", () => {
  test("a plain one has one scan and its end", async () => {
    expect(jpegShape(await brownJpeg())).toMatchObject({ scans: 1, ended: true });
  });

  test("a progressive one has several", async () => {
    const progressive = await sharp(await brownJpeg())
      .jpeg({ progressive: true })
      .toBuffer();
    // libjpeg's script for a colour photo has ten (from memory).
    expect(jpegShape(progressive)).toMatchObject({ scans: 10, ended: true });
  });

  test("one in several scans is held whole while it is decoded: two bytes a coefficient", async () => {
    const held = async (chromaSubsampling: string, options: object) =>
      jpegShape(
        await sharp(await brownJpeg(1600, 1000))
          .jpeg({ chromaSubsampling, ...options })
          .toBuffer(),
      ).heldBytes;
    expect(await held("4:2:0", { progressive: true })).toBe(1.6e6 * 1.5 * 2);
    expect(await held("4:4:4", { progressive: true })).toBe(1.6e6 * 3 * 2);
    expect(await held("4:4:4", {})).toBe(0);
  });

  test("every scan is counted", async () => {
    const jpeg = await brownJpeg();
    const at = jpeg.indexOf(startOfScan);
    const scan = jpeg.subarray(at, -2);
    const many = Buffer.concat([jpeg.subarray(0, at), ...Array<Buffer>(2080).fill(scan), jpeg.subarray(-2)]);
    expect(jpegShape(many)).toMatchObject({ scans: 2080, ended: true });
  });

  test("the same two bytes in a text, or in a film after the picture, are no scans", async () => {
    const jpeg = await brownJpeg();
    const noise = Buffer.alloc(60_000, startOfScan);
    expect(jpegShape(withJpegSegment(jpeg, 0xe1, noise)).scans).toBe(1);
    expect(jpegShape(withJpegSegment(jpeg, 0xfe, noise)).scans).toBe(1);
    expect(jpegShape(Buffer.concat([jpeg, noise])).scans).toBe(1);
  });

  test("one cut anywhere has no end", async () => {
    const jpeg = await brownJpeg();
    for (const length of [2, 3, 4, 5, 20, 300, jpeg.length >> 1, jpeg.length - 2, jpeg.length - 1])
      expect(jpegShape(jpeg.subarray(0, length)).ended, `${length} bytes`).toBe(false);
  });
});

describe("the chunks of a PNG", () => {
  test("its end is there, or is not", () => {
    const png = blackPng(8, 8, 8);
    expect(pngShape(png).ended).toBe(true);
    expect(pngShape(png.subarray(0, -1)).ended).toBe(false);
    expect(pngShape(png.subarray(0, -12)).ended).toBe(false);
  });

  test("a profile is seen before it is opened", () => {
    const png = blackPng(8, 8, 8);
    const having = (type: string, body: Buffer) => pngShape(withPngChunk(png, type, body));
    expect(pngShape(png).profiled).toBe(false);
    expect(having("iCCP", Buffer.from("x\0\0not a profile", "latin1")).profiled).toBe(true);
    expect(having("tEXt", Buffer.from("iCCP")).profiled).toBe(false);
  });

  test.each<[string, string, number[], boolean]>([
    ["the power of sRGB", "gAMA", [0, 0, 0xb1, 0x8f], false],
    ["linear codes", "gAMA", [0, 1, 0x86, 0xa0], true],
    ["the space of sRGB", "cICP", [1, 13, 0, 1], false],
    ["a space of television", "cICP", [9, 16, 0, 1], true],
    ["a power that is cut off", "gAMA", [0, 1], false],
  ])("%s", (_, type, body, otherColours) => {
    expect(pngShape(withPngChunk(blackPng(8, 8, 8), type, Buffer.from(body))).otherColours).toBe(otherColours);
  });
});
