import { readFile } from "node:fs/promises";
import { describe, expect, test } from "vitest";
import { decodeHeic, heicEncoding, heicSize } from "../../../server/images/heic.ts";
import { samplePath } from "../../sample-images/sample-files.ts";
import { emptyHeic, withColourCodes } from "../../support/odd-pictures/heif-file.ts";

const heic = await readFile(samplePath("good/s04-b.heic"));

describe("a HEIC", () => {
  test("is as large as it is decoded", () => {
    const { width, height, data } = decodeHeic(heic);
    expect(heicSize(heic)).toEqual({ width, height, seeThrough: false });
    expect(data.length).toBe(width * height * 3);
  });

  test("with no picture, or cut, is refused, and the next one is opened as before", () => {
    for (const bytes of [emptyHeic(), heic.subarray(0, 500), heic.subarray(0, 100_000)])
      expect(() => decodeHeic(bytes)).toThrow(/HEIC/);
    expect(heicSize(heic).width).toBeGreaterThan(1000);
  });

  test("opened many times leaves nothing in memory", () => {
    for (let i = 0; i < 20; i += 1) heicSize(heic);
    const before = process.memoryUsage().rss;
    for (let i = 0; i < 400; i += 1) heicSize(heic);
    // Kept, 400 files would be 94 MB.
    expect(process.memoryUsage().rss - before).toBeLessThan(60e6);
  });

  test.each<[number, number, string | null]>([
    [1, 13, "srgb"],
    [1, 1, "srgb"],
    [2, 2, "srgb"],
    [12, 13, "display-p3"],
    [9, 16, null],
    [9, 18, null],
    [1, 8, null],
  ])("says by its codes, primaries %i and curve %i, that its colours are %s", (primaries, curve, encoding) => {
    expect(heicEncoding(withColourCodes(heic, primaries, curve))).toBe(encoding);
  });
});
