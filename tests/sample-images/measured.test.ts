import { readFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import { deltaE00 } from "../../analysis/colour/delta-e00.ts";
import type { Lab65 } from "../../analysis/colour/lab.ts";
import { jobFile } from "../../server/contract/job-file.ts";
import { examine } from "../../server/images/examine.ts";
import { chartChoices, measuredCharts } from "../../server/rules/chart-editions.ts";
import { measurePhoto } from "../../server/workers/measure-photo.ts";
import type { PhotoMeasurement } from "../../server/workers/measurement.ts";
import { solveDelivery } from "../../server/workers/solve-delivery.ts";
import type { Solved } from "../../server/workers/solved.ts";

/** The whole measurement on the demo's photos, held to the colours they were rendered with. */
const folder = join(import.meta.dirname, "../../sample-images");
const read = (name: string) => JSON.parse(readFileSync(join(folder, name), "utf8"));
const job = jobFile.parse(read("job.json"));
const truth = read("truth.json") as {
  faces: { leaf: string; face: string; parts: { part: string; lab: [number, number, number] }[] }[];
};

const trueColour = new Map<string, Lab65>(
  truth.faces.flatMap(({ leaf, face, parts }) =>
    parts.map(({ part, lab }) => [`${leaf}/${face} ${part}`, lab] as const),
  ),
);
const toleranceDE00 = 2;
const measurements: { file: string; outcome: PhotoMeasurement }[] = [];
let solved: Solved;

/** The phone as the file names it: each has a tone and a sensor of its own. */
const cameraOf = async (path: string): Promise<string> => {
  const examined = await examine(path);
  return examined.kind === "photo" ? examined.camera : "";
};

const measure = async (photo: (typeof job.photos)[number]): Promise<PhotoMeasurement> =>
  measurePhoto({
    photo: photo.file,
    path: join(folder, photo.file),
    camera: await cameraOf(join(folder, photo.file)),
    shows: photo.shows.flatMap(({ leaf: id, face }) => {
      const leaf = job.leaves.find((one) => one.id === id);
      if (!leaf) return [];
      const parts = leaf.parts.map(({ part, kind, grain, rect_mm }) => ({ name: part, kind, grain, rectMm: rect_mm }));
      return [{ leaf: id, face, layout: { widthMm: leaf.width_mm, heightMm: leaf.height_mm, parts }, corners: null }];
    }),
    references: null,
  });

beforeAll(async () => {
  for (const photo of job.photos) {
    if (photo.kind !== "single" && photo.kind !== "line-up") continue;
    measurements.push({ file: photo.file, outcome: await measure(photo) });
  }
  const samples = measurements.flatMap(({ outcome }) => (outcome.kind === "measured" ? [outcome.sample] : []));
  const { chosen, all } = chartChoices({});
  const charts = measuredCharts(chosen, all);
  solved = solveDelivery({ samples, ...charts, greyReflectance: 0.18, toleranceDE00, confidence: 0.95 });
});

const median = (values: readonly number[]) =>
  values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;

/** Errors of the colours of faces, in ΔE00; without a known reference after the shift that is common to all of them. */
const errors = (known: boolean): number[] => {
  const parts = solved.faces.flatMap(({ leaf, face, parts: all }) =>
    all
      .filter(({ u95 }) => (u95 !== null) === known)
      .map(({ part, lab }) => ({ lab, real: trueColour.get(`${leaf}/${face} ${part}`) as Lab65 })),
  );
  const shift = [0, 1, 2].map((k) =>
    known ? 0 : parts.reduce((sum, { lab, real }) => sum + (real[k] ?? 0) - (lab[k] ?? 0), 0) / parts.length,
  );
  return parts.map(({ lab: [l, a, b], real }) =>
    deltaE00([l + (shift[0] ?? 0), a + (shift[1] ?? 0), b + (shift[2] ?? 0)], real),
  );
};

describe("the demo delivery, measured", () => {
  test("every photo of whole leaves is measured, none is sent back", () => {
    expect(measurements.filter(({ outcome }) => outcome.kind !== "measured").map(({ file }) => file)).toEqual([]);
  });

  test("all 40 faces of the 20 leaves have the colour of every part", () => {
    const delivered = solved.faces.filter(({ leaf }) => !leaf.startsWith("X"));
    expect(delivered).toHaveLength(40);
    for (const { leaf, face, parts } of delivered)
      expect(parts.map(({ part }) => part).toSorted(), `${leaf}/${face}`).toEqual(
        job.leaves
          .find(({ id }) => id === leaf)
          ?.parts.map(({ part }) => part)
          .toSorted(),
      );
  });

  test("colours are right: median error at most 0.8 ΔE00, with a reference and without", () => {
    const [known, unknown] = [errors(true), errors(false)];
    console.log(
      `median error: ${median(known).toFixed(2)} (${known.length} parts with a known reference), ${median(unknown).toFixed(2)} (${unknown.length} parts without, after the common shift)`,
    );
    expect(median([...known, ...unknown])).toBeLessThanOrEqual(0.8);
    expect(median(unknown)).toBeLessThanOrEqual(0.8);
  });

  test("no false match: what is called a match is within tolerance in truth", () => {
    const matches = solved.differences.filter(({ verdict }) => verdict === "match");
    expect(matches.length).toBeGreaterThan(20);
    for (const { a, b, parts } of matches)
      for (const { part } of parts) {
        const [one, other] = [trueColour.get(`${a} ${part}`), trueColour.get(`${b} ${part}`)];
        if (one && other) expect(deltaE00(one, other), `${a} and ${b}, ${part}`).toBeLessThanOrEqual(toleranceDE00);
      }
  });

  test("the 95 % intervals of differences hold the truth", () => {
    const held = solved.differences.flatMap(({ a, b, parts }) =>
      parts.flatMap(({ part, deltaE, u95 }) => {
        const [one, other] = [trueColour.get(`${a} ${part}`), trueColour.get(`${b} ${part}`)];
        return one && other ? [Math.abs(deltaE - deltaE00(one, other)) <= u95] : [];
      }),
    );
    const share = held.filter(Boolean).length / held.length;
    console.log(`${(100 * share).toFixed(1)} % of ${held.length} differences within their 95 % interval`);
    expect(share).toBeGreaterThan(0.9);
  });
});
