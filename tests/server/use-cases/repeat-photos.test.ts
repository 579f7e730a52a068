import { copyFile, mkdir, writeFile } from "node:fs/promises";
import { basename, join } from "node:path";
import { expect, test } from "vitest";
import { repeatReport } from "../../../server/contract/repeat.ts";
import { repeatOfFolder } from "../../../server/use-cases/repeat-photos.ts";
import { samplePath } from "../../sample-images/sample-files.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";

/** A leaf photographed three times by two people, and a text in place of a photo. */
const shots = [
  ["good/w01-a.jpg", "Jo"],
  ["good/w01-a-again-1.jpg", "Jo"],
  ["good/w01-a-again-2.jpg", "Sam"],
  ["failing/not-a-photo.jpg", "Sam"],
] as const;

const job = {
  leaves: [
    {
      id: "W01",
      width_mm: 926,
      height_mm: 2040,
      faces: ["A", "B"],
      parts: [{ part: "face", kind: "face", grain: "v", rect_mm: [0, 0, 926, 2040] }],
    },
  ],
  photos: shots.map(([file, by], i) => ({
    file: basename(file),
    kind: "single",
    shows: [{ leaf: "W01", face: "A" }],
    reference: ["card"],
    by,
    ...(i === 3 && { phone: "Tarnside T4" }),
  })),
};

test("a folder tells how far photos of a face lie apart, who took them, with what, and what is still to photograph", async () => {
  const folder = join(await temporaryFolder(), "repeats");
  await mkdir(folder);
  await writeFile(join(folder, "job.json"), JSON.stringify(job));
  for (const [photo] of shots) await copyFile(samplePath(photo), join(folder, basename(photo)));

  const { refused, ...report } = await repeatOfFolder(folder);
  expect(repeatReport.parse(report)).toEqual(report);
  expect(report.ways).toMatchObject([
    { way: "by-reference", limit: null, spreads: [{ photos: 3, faces: ["W01/A"], degreesOfFreedom: 2 }] },
  ]);
  const spread = report.ways[0]?.spreads[0]?.deltaE ?? Number.NaN;
  // Taken one after the other at one stand: some tenths apart, and not a copy of each other.
  expect(spread).toBeGreaterThan(0.02);
  expect(spread).toBeLessThan(1);
  expect(report.phones, "from the photos, and where a photo does not say from the job file").toEqual([
    "Brannoch P1",
    "Tarnside T4",
  ]);
  expect(report.people).toEqual(["Jo", "Sam"]);
  expect(report.toShoot[0]).toContain("There are 2 repeats so far");
  expect(refused).toEqual([{ photo: "not-a-photo.jpg", advice: [expect.any(String)] }]);
});

test("a folder in which nothing was photographed twice says what to photograph", async () => {
  const folder = join(await temporaryFolder(), "once");
  await mkdir(folder);
  await writeFile(join(folder, "job.json"), JSON.stringify({ ...job, photos: job.photos.slice(0, 1) }));
  await copyFile(samplePath("good/w01-a.jpg"), join(folder, "w01-a.jpg"));
  const { ways, toShoot } = await repeatOfFolder(folder);
  expect(ways).toEqual([]);
  expect(toShoot[0]).toMatch(/three leaves, each three times/);
});
