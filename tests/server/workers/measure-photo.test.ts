import { describe, expect, test } from "vitest";
import { chartChoices, measuredCharts } from "../../../server/rules/chart-editions.ts";
import { measurePhoto } from "../../../server/workers/measure-photo.ts";
import type { PhotoMeasurement } from "../../../server/workers/measurement.ts";
import { solveDelivery } from "../../../server/workers/solve-delivery.ts";
import { type Corners, samplePath } from "../../sample-images/sample-files.ts";
import { painted, sharpOf, writtenFile } from "../../support/photo-files.ts";
import { demoPhoto, demoRequest, failingGates, failingPhoto } from "./demo-photos.ts";

const measure = (file: string, byHand = false): Promise<PhotoMeasurement> =>
  measurePhoto(demoRequest(demoPhoto(file), byHand));

const measured = async (file: string, byHand = false) => {
  const outcome = await measure(file, byHand);
  if (outcome.kind !== "measured") throw new Error(`${file} was not measured: ${JSON.stringify(outcome)}`);
  return outcome;
};

const farthest = (seen: Corners, real: Corners | null | undefined): number =>
  Math.max(...seen.map(([x, y], i) => Math.hypot(x - (real?.[i]?.[0] ?? NaN), y - (real?.[i]?.[1] ?? NaN))));

describe("a photo of a leaf", () => {
  test.each([
    ["good/w01-a.jpg", "srgb", "card", "7K3QD"],
    ["good/s03-a.jpg", "display-p3", "chart", null],
  ] as const)("%s in %s is measured with its %s", async (file, encoding, kind, id) => {
    const truth = demoPhoto(file);
    const { sample, faces, references, gates } = await measured(file);
    expect(gates.filter(({ passed }) => !passed)).toEqual([]);
    expect(sample).toMatchObject({ photo: file, camera: `some camera ${encoding}`, encoding });

    expect(faces.map(({ leaf, face, byHand }) => ({ leaf, face, byHand }))).toEqual(
      truth.shows.map((shown) => ({ ...shown, byHand: false })),
    );
    // 4 px are 5 mm on the leaf: an outline any worse would take in the wall.
    expect(farthest(faces[0]?.corners ?? [], truth.leaves[0]?.corners_px)).toBeLessThan(4);
    expect(faces[0]?.score).toBeGreaterThan(0.7);

    expect(references.map((one) => [one.kind, one.id])).toEqual([[kind, id]]);
    expect(farthest(references[0]?.corners ?? [], truth.references[0]?.corners_px)).toBeLessThan(3);

    const parts = demoRequest(truth).shows[0]?.layout.parts.map(({ name }) => name);
    expect(sample.faces[0]?.parts.map(({ name }) => name)).toEqual(parts);
    for (const { cells } of sample.faces[0]?.parts ?? []) {
      expect(cells.length).toBeGreaterThan(5);
      for (const light of cells.flatMap(([, ...rgb]) => rgb.slice(0, 3))) {
        expect(light).toBeGreaterThan(0);
        expect(light).toBeLessThan(1);
      }
    }
    expect(sample.references).toHaveLength(1);
    expect(JSON.parse(JSON.stringify(sample))).toEqual(sample);
  });

  test("has the corners a person set, not those found", async () => {
    const truth = demoPhoto("good/w05-a.jpg");
    const request = demoRequest(truth, true);
    const { faces } = await measured("good/w05-a.jpg", true);
    expect(faces).toMatchObject([{ byHand: true, corners: request.shows[0]?.corners }]);
  });

  test("has the code of its label among what is not wood, in mm on the face", async () => {
    const [face] = (await measured("good/s01-a.jpg")).faces;
    // Where the renderer sticks it: 40 mm square, 44.5 mm from the left and 50.5 mm from the top.
    const stuck: Corners = [
      [44.5, 50.5],
      [84.5, 50.5],
      [84.5, 90.5],
      [44.5, 90.5],
    ];
    expect(face?.covers).toHaveLength(1);
    expect(farthest(face?.covers[0] ?? [], stuck)).toBeLessThan(3);
  });

  test("whose profile is unknown is kept and not measured", async () => {
    const photo = painted(1200, 900, (x, y) => [(x * 7) % 256, (y * 5) % 256, 90]);
    const cmyk = await sharpOf(photo).toColourspace("cmyk").withIccProfile("cmyk").jpeg().toBuffer();
    const request = { ...demoRequest(demoPhoto("good/w01-a.jpg")), path: await writtenFile(cmyk) };
    expect(await measurePhoto(request)).toEqual({
      kind: "kept",
      why: "unknown colour profile: kept, colour not measured",
    });
  });

  test("that is damaged cannot be measured", async () => {
    const request = { ...demoRequest(demoPhoto("good/w01-a.jpg")), path: samplePath("failing/truncated.jpg") };
    await expect(measurePhoto(request)).rejects.toThrow();
  });
});

/** Gates that a photo was sent back for: by itself, or because nothing in it is known from elsewhere. */
const sentBackFor = async (gate: string, byHand = false): Promise<string[]> => {
  const outcome = await measurePhoto(demoRequest(failingPhoto(gate), byHand));
  if (outcome.kind === "kept") return ["kept"];
  const own = outcome.gates.filter(({ passed }) => !passed);
  if (outcome.kind === "retake") return own.map((one) => one.gate);
  const samples = [outcome.sample];
  const { chosen, all } = chartChoices({});
  const { sentBack } = solveDelivery({
    samples,
    ...measuredCharts(chosen, all),
    greyReflectance: 0.18,
    toleranceDE00: 2,
    confidence: 0.95,
  });
  return [...own, ...sentBack.map((one) => one.gate)].map((one) => one.gate);
};

describe("a photo made to fail", () => {
  test.each(["blur", "glare", "cut-off", "mixed-light", "too-dark", "no-reference"])(
    "at the gate %s is sent back for it",
    async (gate) => {
      expect(await sentBackFor(gate)).toContain(gate);
    },
  );

  test.each(["too-small", "too-oblique"])(
    "%s is sent back for it, found by itself or outlined by a person",
    async (gate) => {
      expect(await sentBackFor(gate)).toEqual([gate]);
      expect(await sentBackFor(gate, true)).toContain(gate);
    },
  );

  test("clipped wood is sent back for it", async () => {
    expect(await sentBackFor("clipped")).toContain("clipped");
  });

  test("a chart of another edition is sent back for it", async () => {
    expect(await sentBackFor("wrong-chart")).toEqual(["wrong-chart"]);
  });

  test("says what to do in a sentence", async () => {
    for (const gate of failingGates) {
      const outcome = await measurePhoto(demoRequest(failingPhoto(gate)));
      if (outcome.kind === "kept") throw new Error(`${gate} was kept`);
      for (const { passed, advice } of outcome.gates) if (!passed) expect(advice).toMatch(/^[A-Z].*\w.*\.$/);
    }
  });
});
