import { readdir, readFile, stat } from "node:fs/promises";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { readTruth, samplePath } from "./sample-files.ts";

const truth = await readTruth();
const goodFiles = (await readdir(samplePath("good"))).map((name) => `good/${name}`).toSorted();
const failingFiles = (await readdir(samplePath("failing"))).map((name) => `failing/${name}`).toSorted();
const jpegs = goodFiles.filter((file) => file.endsWith(".jpg"));
const described = await Promise.all(
  jpegs.map(async (file) => ({ file, ...(await sharp(samplePath(file)).metadata()) })),
);

const sizeOf = async (folder: string): Promise<number> => {
  const entries = await readdir(folder, { withFileTypes: true });
  const sizes = await Promise.all(
    entries.map(async (entry) => {
      const path = `${folder}/${entry.name}`;
      return entry.isDirectory() ? sizeOf(path) : (await stat(path)).size;
    }),
  );
  return sizes.reduce((sum, size) => sum + size, 0);
};

describe("the sample photos as files", () => {
  it("take at most 25 MB together with everything beside them", async () => {
    expect(await sizeOf(samplePath(""))).toBeLessThanOrEqual(25e6);
  });

  it("are exactly those that the truth speaks of", () => {
    expect(truth.photos.map(({ file }) => file).toSorted()).toEqual(goodFiles);
    expect(truth.failing.map(({ file }) => file).toSorted()).toEqual(failingFiles);
  });

  it("are at least 40, of 3 to 12.2 megapixels, one of them 12", () => {
    const megapixels = truth.photos.map(({ size_px: [w, h] }) => (w * h) / 1e6);
    expect(megapixels.length).toBeGreaterThanOrEqual(40);
    expect(Math.min(...megapixels)).toBeGreaterThanOrEqual(3);
    expect(Math.max(...megapixels)).toBeLessThanOrEqual(12.2);
    expect(Math.max(...megapixels)).toBeGreaterThanOrEqual(12);
  });

  it("hold each EXIF orientation, as the truth says, and the size that it turns to", () => {
    const stored = new Map(described.map((one) => [one.file, one]));
    for (const { file, orientation, size_px } of truth.photos) {
      const photo = stored.get(file);
      if (!photo) continue;
      expect(photo.orientation, file).toBe(orientation);
      expect([photo.autoOrient.width, photo.autoOrient.height], file).toEqual(size_px);
    }
    expect(new Set(described.map(({ orientation }) => orientation))).toEqual(new Set([1, 2, 3, 4, 5, 6, 7, 8]));
  });

  it("hold a Display P3 profile exactly where the truth says display-p3", () => {
    const wide = described.filter(({ icc }) => icc?.toString("latin1").replaceAll("\0", "").includes("Display P3"));
    const said = truth.photos.filter(({ encoding }) => encoding === "display-p3");
    expect(said.length).toBeGreaterThan(0);
    expect(wide.map(({ file }) => file).toSorted()).toEqual(said.map(({ file }) => file).toSorted());
  });

  it("hold one HEIC", async () => {
    const heic = goodFiles.filter((file) => file.endsWith(".heic"));
    expect(heic).toHaveLength(1);
    const head = await readFile(samplePath(heic[0] ?? ""));
    expect(head.toString("latin1", 4, 12)).toBe("ftypheic");
  });

  it("say who took them and when, in the camera's own notes", async () => {
    for (const { file, exif } of described) {
      const notes = exif?.toString("latin1") ?? "";
      expect(/Brannoch|Tarnside/.test(notes), file).toBe(true);
      expect(notes.includes("2026:03:0"), file).toBe(true);
    }
  });
});

describe("the photos that must be refused", () => {
  it("hold one file for each gate", () => {
    expect(truth.failing.map(({ gate }) => gate).toSorted()).toEqual([
      "blur",
      "clipped",
      "cut-off",
      "glare",
      "mixed-light",
      "no-reference",
      "not-a-photo",
      "too-dark",
      "too-oblique",
      "too-small",
      "truncated",
      "wrong-chart",
    ]);
  });

  it("cannot be decoded where the file is broken, and can where it is not", async () => {
    for (const { gate, file } of truth.failing) {
      const decoded = sharp(samplePath(file), { failOn: "truncated" }).raw().toBuffer();
      if (gate === "truncated" || gate === "not-a-photo") await expect(decoded, file).rejects.toThrow();
      else expect((await decoded).length, file).toBeGreaterThan(3e6);
    }
  });
});
