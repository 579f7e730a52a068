import { describe, expect, it } from "vitest";
import { deltaE00 } from "../../../analysis/colour/delta-e00.ts";
import { readRepeats, repeatPhotos } from "../../../analysis/repeat/repeat-readings.ts";
import type { PhotoSample } from "../../../analysis/sample/photo-sample.ts";
import { knownChart, makeDelivery } from "../solve/synthetic-delivery.ts";

const single = (photo: string, face: string, reference?: "chart" | "card") => ({
  photo,
  faces: [face],
  ...(reference && { reference }),
});

/** The wood of a photo, not its reference, as if it were that much lighter: a shadow, a shine. */
const lighter = (photo: PhotoSample, factor: number): PhotoSample => ({
  ...photo,
  faces: photo.faces.map((face) => ({
    ...face,
    parts: face.parts.map((part) => ({
      ...part,
      cells: part.cells.map(([cell, r, g, b, ...rest]) => [cell, r * factor, g * factor, b * factor, ...rest] as const),
    })),
  })),
});

describe("readings of line-ups", () => {
  const lineUps = ["W01/A W02/A W03/A", "W02/A W03/A W04/A", "W03/A W04/A W05/A", "W04/A W05/A W01/A"];
  const { photos } = makeDelivery(
    lineUps.map((faces, i) => ({ photo: `q${i}`, faces: faces.split(" ") })),
    5,
  );
  const readings = readRepeats(photos, knownChart);

  it("tell each face apart in one turn, the others tie the photos in it", () => {
    const repeated = ["W01", "W02", "W03", "W04", "W05"];
    for (const leaf of repeated) {
      const turns = new Set(readings.filter((one) => one.leaf === leaf && one.apart).map(({ turn }) => turn));
      expect(turns.size, leaf).toBe(1);
    }
    expect(new Set(readings.map(({ turn }) => turn))).toEqual(new Set([0, 1, 2, 3]));
    // W02 and W01 stand in two photos that other faces tie together.
    for (const leaf of ["W01", "W02"])
      expect(new Set(readings.filter((one) => one.leaf === leaf && one.apart).map(({ tie }) => tie)).size).toBe(1);
  });

  it("give a face that only helps one colour, and a face told apart as many as photos", () => {
    const colours = (apart: boolean) =>
      new Set(
        readings
          .filter((one) => one.leaf === "W03" && one.part === "panel" && one.turn === (apart ? 2 : 0))
          .map(({ lab }) => lab[0]),
      );
    expect(colours(true).size).toBe(3);
    expect(colours(false).size).toBe(1);
  });
});

describe("readings of repeat photos", () => {
  const { photos, truth } = makeDelivery(
    [
      single("p1", "W01/A", "chart"),
      single("p2", "W01/A", "chart"),
      single("p3", "W02/A", "chart"),
      single("p4", "W02/A", "chart"),
      single("p5", "W03/A", "chart"),
      single("p6", "W01/A"),
      { photo: "p7", faces: ["W02/A", "W04/A"] },
    ],
    3,
  );

  it("are of faces photographed more than once, but not where a face stands alone without a reference", () => {
    expect(repeatPhotos(photos).map(({ photo }) => photo)).toEqual(["p1", "p2", "p3", "p4", "p7"]);
    expect(repeatPhotos(photos.slice(4))).toEqual([]);
    expect(readRepeats(photos.slice(4), knownChart)).toEqual([]);
  });

  it("give each photo its own colour, near the true one", () => {
    const readings = readRepeats(photos, knownChart);
    const charted = readings.filter(({ apart, tie }) => apart && tie === "known");
    expect(new Set(charted.map(({ photo }) => photo))).toEqual(new Set(["p1", "p2", "p3", "p4"]));
    expect(charted).toHaveLength(8);
    // The same bound as the adjustment's own tests have for one photo with a chart.
    for (const { leaf, face, part, lab } of charted)
      expect(deltaE00(lab, truth.get(`${leaf}/${face}/${part}`)!)).toBeLessThan(2.1);
    expect(
      readings
        .filter(({ photo, apart }) => photo === "p7" && apart)
        .map(({ leaf, referenced, tie }) => [leaf, referenced, tie]),
    )
      // Both parts of the face, hanging on nothing once no other photo may tell its colour.
      .toEqual([
        ["W02", false, "with p7"],
        ["W02", false, "with p7"],
      ]);
  });

  it("see in full what one photo shows lighter, nothing draws it to the others", () => {
    const lightness = (all: readonly PhotoSample[]) =>
      readRepeats(all, knownChart).find(({ photo, part, apart }) => photo === "p2" && part === "panel" && apart)!
        .lab[0];
    const step = lightness(photos.map((one) => (one.photo === "p2" ? lighter(one, 1.05) : one))) - lightness(photos);
    // 5 % more light at L* 62 is about 1.3 units; a tenth less would be a spread told too small by a tenth.
    const whole = 116 * Math.cbrt(0.303) * (Math.cbrt(1.05) - 1);
    expect(step / whole).toBeGreaterThan(0.9);
    expect(step / whole).toBeLessThan(1.15);
  });
});
