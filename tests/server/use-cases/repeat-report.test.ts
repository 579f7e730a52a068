import { describe, expect, test } from "vitest";
import { repeatReport } from "../../../server/contract/repeat.ts";
import { repeatReportOf, type Taken } from "../../../server/use-cases/repeat-report.ts";
import { type MadePhoto, makeReadings, singles } from "../../analysis/repeat/made-readings.ts";

const spread = { photo: [0.5, 0.1, 0.2], part: [0.1, 0.1, 0.1] } as const;

/** A report on made photos; who took one, and with what, stands in its name: "P-Jo-…". */
const reportOf = (photos: readonly MadePhoto[], named = false) => {
  const taken = photos.map(({ photo }): [string, Taken] => {
    const [phone, person] = photo.split("-");
    return [photo, named ? { phone: phone ?? null, person: person ?? null } : { phone: null, person: null }];
  });
  const report = repeatReportOf(makeReadings(photos, spread, 1), new Map(taken));
  expect(repeatReport.parse(report)).toEqual(report);
  return report;
};

const by = (who: string, faces: number, times: number): MadePhoto[] =>
  singles(faces, times).map((one) => ({ ...one, photo: `${who}-${one.photo}` }));

describe("what repeat photos come to", () => {
  test("nothing photographed twice: says what to photograph", () => {
    const report = reportOf(singles(3, 1));
    expect(report).toMatchObject({ ways: [], gauges: [], phones: [], people: [] });
    expect(report.toShoot[0]).toMatch(/^Photograph one face of three leaves, each three times with the card or chart/);
    expect(report.toShoot[0]).not.toContain("so far");
  });

  test("too few: shows what there is, with no limit to go by, and how many there are", () => {
    const report = reportOf(singles(2, 2));
    expect(report.ways).toMatchObject([{ way: "by-reference", limit: null }]);
    expect(report.toShoot[0]).toContain("There are 2 repeats so far, 5 are the least.");
  });

  test("what it asks for is enough", () => {
    const report = reportOf(singles(3, 3));
    const [way] = report.ways;
    expect(way?.spreads.map(({ parts }) => parts)).toEqual(["all", "panel", "stile"]);
    expect(way?.limit).toBe(way?.spreads[0]?.limit);
    expect(report.toShoot.join(" ")).not.toContain("three leaves, each three times");
  });

  test("line-ups have a limit of their own", () => {
    const lineUps = Array.from({ length: 6 }, (_, t) => ({
      photo: `r${t}`,
      faces: ["R0/A", "R1/A"],
      lineUp: true as const,
    }));
    expect(reportOf([...singles(3, 3), ...lineUps]).ways.map(({ way, limit }) => [way, limit !== null])).toEqual([
      ["by-reference", true],
      ["side-by-side", true],
    ]);
  });

  test("two phones and two people are told apart", () => {
    const all = ["P-Jo", "P-Sam", "Q-Jo", "Q-Sam"].flatMap((who) => by(who, 3, 2));
    const report = reportOf(all, true);
    expect(report.gauges).toMatchObject([
      { by: "phone", appraisers: ["P", "Q"], times: 4 },
      { by: "person", appraisers: ["Jo", "Sam"], times: 4 },
    ]);
    expect(report.gauges[0]?.rows.map(({ axis }) => axis)).toEqual(["L", "a", "b", "colour"]);
    expect(report).toMatchObject({ phones: ["P", "Q"], people: ["Jo", "Sam"], toShoot: [] });
  });

  test("several phones that share no leaves: says which to photograph what with", () => {
    const report = reportOf([...by("P-Jo", 3, 3), ...by("Q-Jo", 1, 1)], true);
    expect(report.gauges).toEqual([]);
    expect(report.toShoot).toEqual([
      expect.stringMatching(/phones differ by is not known: .* with P and Q, and the same card/),
      expect.stringMatching(/^If more than one person/),
    ]);
  });
});
