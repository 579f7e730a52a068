import { spawnSync } from "node:child_process";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import ExifReader from "exifreader";
import { describe, expect, test } from "vitest";
import { crop } from "../../../server/images/crop.ts";
import { preview } from "../../../server/images/decode.ts";
import { supplierCopy } from "../../../server/images/supplier-copy.ts";
import { samplePath } from "../../sample-images/sample-files.ts";
import { SECRETS, tellingJpeg, tellingPng } from "../../support/odd-pictures/camera-written.ts";
import { fillingSegments, withSegments } from "../../support/odd-pictures/jpeg-parts.ts";
import { busyJpeg } from "../../support/odd-pictures/odd-picture.ts";
import { writtenFile } from "../../support/photo-files.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";

/** Everything that makes a picture which leaves this computer or is shown, by its name. */
const outgoing: readonly (readonly [string, (path: string) => Promise<Buffer>])[] = [
  ["shown small", (path) => preview(path, 400)],
  [
    "cut straight",
    (path) => {
      const corners = [
        [0, 0],
        [400, 0],
        [400, 300],
        [0, 300],
      ] as const;
      const box = { x: 0, y: 0, w: 400, h: 300 };
      return crop(path, { corners, widthMm: 400, heightMm: 300, box, pxPerMm: 0.5 });
    },
  ],
  [
    "copied for the supplier",
    async (path) => {
      const copy = join(await temporaryFolder(), "copy.jpg");
      await supplierCopy(path, copy);
      return readFile(copy);
    },
  ],
];

const sources: readonly (readonly [string, () => Promise<string>])[] = [
  ["a JPEG", () => writtenFile(tellingJpeg())],
  ["a PNG", () => writtenFile(tellingPng())],
  ["a HEIC", async () => samplePath("good/s04-b.heic")],
];

/** Tags of another program, where it is installed; null where not. */
const exiftoolTags = (path: string): string[] | null => {
  const { status, stdout } = spawnSync("exiftool", ["-a", "-G0", "-s", path], { encoding: "utf8" });
  return status === 0 ? stdout.split("\n") : null;
};

const telling = /gps|serial|owner|artist|copyright|author|thumbnail|\bmake\b|\bmodel\b|datetime/i;

describe.each(sources)("%s that tells where, with what and by whom it was taken", (kind, source) => {
  test("is found to tell it", async () => {
    const bytes = await readFile(await source());
    if (kind === "a HEIC") expect(bytes.includes("Tarnside")).toBe(true);
    else
      for (const secret of kind === "a JPEG" ? SECRETS : [SECRETS[0], SECRETS[2]])
        expect(bytes.includes(secret)).toBe(true);
    expect(Object.keys(ExifReader.load(bytes)).join(" ")).toMatch(telling);
  });

  test.each(outgoing)("C54, D11: %s, tells none of it", async (_, make) => {
    const bytes = await make(await source());
    expect(bytes.length).toBeGreaterThan(1000);
    for (const secret of [...SECRETS, "Tarnside", "Exif", "http://ns.adobe.com/xap/", "Photoshop 3.0"])
      expect(bytes.includes(secret), secret).toBe(false);
    // The profile of sRGB itself names its own maker.
    expect(
      Object.keys(ExifReader.load(bytes, { excludeTags: { icc: true } })).filter((tag) => telling.test(tag)),
    ).toEqual([]);
    const path = await writtenFile(bytes);
    const tags = exiftoolTags(path);
    if (!tags) console.warn("exiftool is not installed: outgoing pictures are read back by exifreader only");
    expect((tags ?? []).filter((line) => /^\[(EXIF|XMP|IPTC|MakerNotes)\]/.test(line))).toEqual([]);
  });
});

test("C15: 40 MB of what programs write stay behind", async () => {
  const path = await writtenFile(
    withSegments(busyJpeg, ...fillingSegments(0xfe, 20e6), ...fillingSegments(0xe1, 20e6)),
  );
  expect((await preview(path, 1600)).length).toBeLessThan(1e6);
});
