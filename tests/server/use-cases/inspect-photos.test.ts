import { copyFile, mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { Refusal } from "../../../server/problem.ts";
import { inspectPhotos } from "../../../server/use-cases/inspect-photos.ts";
import { readTruth, samplePath } from "../../sample-images/sample-files.ts";
import { temporaryFolder } from "../../support/temporary-folder.ts";

const leaf = (id: string) => ({
  id,
  width_mm: 926,
  height_mm: 2040,
  faces: ["A", "B"],
  parts: [{ part: "face", kind: "face", grain: "v", rect_mm: [0, 0, 926, 2040] }],
});

const single = (file: string, of: string, face: string) => ({
  file,
  kind: "single",
  shows: [{ leaf: of, face }],
  reference: ["card"],
});

/** What a person writes of one leaf with both faces photographed, a blurred photo, a text and a detail. */
const job = {
  leaves: [leaf("W01"), leaf("W04")],
  photos: [
    single("w01-a.jpg", "W01", "A"),
    single("w01-b.jpg", "W01", "B"),
    single("blur.jpg", "W04", "A"),
    single("not-a-photo.jpg", "W04", "B"),
    { file: "missing-detail.jpg", kind: "detail", shows: [{ leaf: "W01", face: "A" }] },
  ],
  spaces: [
    { name: "Hall", openings: ["1.01"] },
    { name: "Office", openings: ["1.01"] },
  ],
  openings: [{ id: "1.01", size_mm: { height: 2040, width: 926 }, spaces: ["Hall", "Office"] }],
};

/** A folder with the job file given and these sample photos. */
const folderOf = async (jobFile: string | null, photos: readonly string[] = []): Promise<string> => {
  const folder = join(await temporaryFolder(), "photos");
  await mkdir(folder);
  if (jobFile !== null) await writeFile(join(folder, "job.json"), jobFile);
  for (const photo of photos) await copyFile(samplePath(photo), join(folder, photo.split("/")[1] ?? photo));
  return folder;
};

test("a folder of photos comes to faces, a difference, outlines, what was refused, and a plan", async () => {
  const photos = ["good/w01-a.jpg", "good/w01-b.jpg", "failing/blur.jpg", "failing/not-a-photo.jpg"];
  const folder = await folderOf(JSON.stringify(job), photos);
  const done: string[] = [];
  const seen = await inspectPhotos(folder, (count, of) => done.push(`${count} of ${of}`));
  expect(done).toEqual(["1 of 4", "2 of 4", "3 of 4", "4 of 4"]);

  expect(seen.faces.map(({ leaf: id, face }) => `${id}/${face}`).toSorted()).toEqual(["W01/A", "W01/B"]);
  for (const { parts } of seen.faces) {
    expect(parts.map(({ part }) => part)).toEqual(["face"]);
    // Walnut: brown, neither black nor white.
    expect(parts[0]?.lab[0]).toBeGreaterThan(25);
    expect(parts[0]?.lab[0]).toBeLessThan(65);
    expect(parts[0]?.lab[2]).toBeGreaterThan(5);
  }

  const truth = await readTruth();
  const [a, b] = (["A", "B"] as const).map(
    (face) => truth.faces.find((one) => one.leaf === "W01" && one.face === face)?.parts[0]?.lab ?? [NaN, NaN, NaN],
  );
  const real = Math.hypot(...[0, 1, 2].map((k) => (a?.[k] ?? NaN) - (b?.[k] ?? NaN)));
  expect(seen.pairs).toHaveLength(1);
  const [pair] = seen.pairs;
  expect(new Set([pair?.a, pair?.b])).toEqual(new Set(["W01/A", "W01/B"]));
  // CIE76 of colours 0.77 apart is above CIEDE2000 and close to it.
  expect(Math.abs((pair?.de00 ?? NaN) - real)).toBeLessThan((pair?.u95 ?? NaN) + 0.3);

  expect(seen.outlines.map(({ photo, leaf: id, face }) => [photo, id, face])).toEqual([
    ["w01-a.jpg", "W01", "A"],
    ["w01-b.jpg", "W01", "B"],
  ]);
  const outline = truth.photos.find(({ file }) => file === "good/w01-a.jpg")?.leaves[0]?.corners_px;
  for (const [i, [x, y]] of (outline ?? []).entries())
    expect(
      Math.hypot((seen.outlines[0]?.corners_px[i]?.[0] ?? NaN) - x, (seen.outlines[0]?.corners_px[i]?.[1] ?? NaN) - y),
    ).toBeLessThan(4);

  expect(seen.refused).toEqual([
    { photo: "blur.jpg", reasons: ["blur"], advice: [expect.stringMatching(/Hold the phone still/)] },
    { photo: "not-a-photo.jpg", reasons: ["unreadable"], advice: [expect.any(String)] },
  ]);
  expect(seen.plan).toEqual([{ opening: "1.01", leaf: "W01", faceTo: expect.any(Object) }]);
  expect(Object.keys(seen.plan[0]?.faceTo ?? {}).toSorted()).toEqual(["Hall", "Office"]);
  expect(Object.values(seen.plan[0]?.faceTo ?? {}).toSorted()).toEqual(["A", "B"]);
  expect(JSON.parse(JSON.stringify(seen))).toEqual(seen);
});

describe("a job file that cannot be used", () => {
  const refusalOf = async (jobFile: string | null): Promise<Refusal> => {
    const folder = await folderOf(jobFile);
    const outcome = await inspectPhotos(folder).catch((error: unknown) => error);
    if (!(outcome instanceof Refusal)) throw new Error(`no refusal but ${String(outcome)}`);
    return outcome;
  };

  test("is missing: says what to write", async () => {
    const { message, status } = await refusalOf(null);
    expect(status).toBe(422);
    expect(message).toMatch(/no job\.json in .* Write one/);
  });

  test("is no JSON: says so", async () => {
    const { message, status } = await refusalOf('{ "leaves": [}');
    expect(status).toBe(422);
    expect(message).toMatch(/^job\.json is no JSON: Unexpected token/);
  });

  test("has faults: each is named with its place", async () => {
    const broken = structuredClone(job);
    Object.assign(broken.leaves[1] ?? {}, { width_mm: -926 });
    Object.assign(broken.photos[0]?.shows[0] ?? {}, { face: "C" });
    const { status, faults } = await refusalOf(JSON.stringify(broken));
    expect(status).toBe(422);
    expect(faults?.map(({ at }) => at)).toEqual(["leaves.1.width_mm", "photos.0.shows.0.face"]);
    for (const { says } of faults ?? []) expect(says).not.toBe("");
  });

  test("names values of a chart that are not there, or are no chart", async () => {
    const references = { chart: { values: "chart.txt" } };
    expect((await refusalOf(JSON.stringify({ ...job, references }))).message).toMatch(/There is no chart\.txt in/);
    const folder = await folderOf(JSON.stringify({ ...job, references }));
    await writeFile(join(folder, "chart.txt"), "patch,L,a,b\nbrown,38,14,14\n");
    await expect(inspectPhotos(folder)).rejects.toThrow(/The chart was not taken: white: the text does not say/);
  });

  test("has no leaves", async () => {
    expect((await refusalOf(JSON.stringify({ ...job, leaves: [] }))).faults).toMatchObject([{ at: "leaves" }]);
  });
});
