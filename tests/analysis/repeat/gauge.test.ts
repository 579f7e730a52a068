import { describe, expect, it } from "vitest";
import { normalFrom } from "../../../analysis/algebra/seeded-random.ts";
import { gaugeFigures, studyGauge } from "../../../analysis/repeat/gauge.ts";
import { printedStudy, tenPartsThreeAppraisers } from "../../published/gauge-study.ts";

describe("the published study of ten parts, three appraisers, three trials", () => {
  const study = studyGauge(tenPartsThreeAppraisers)!;
  const figures = gaugeFigures(study.variances);

  it("has the printed sums of squares to their six decimals", () => {
    for (const [name, printed] of Object.entries(printedStudy.sums))
      expect(study.sums[name as keyof typeof study.sums], name).toBeCloseTo(printed, 6);
  });

  it("finds no interaction, and pools it", () => {
    expect(study.interaction.f).toBeCloseTo(printedStudy.f, 5);
    expect(study.interaction.p).toBeCloseTo(printedStudy.p, 3);
    expect(study.interaction.pooled).toBe(true);
  });

  it("has the printed standard deviations", () => {
    for (const name of ["repeat", "reproduce", "part", "total"] as const)
      expect(figures[name], name).toBeCloseTo(printedStudy[name], 6);
    // Printed from rounded parts: its last digit is one off.
    expect(Math.abs(figures.gauge - printedStudy.gauge)).toBeLessThan(1.5e-6);
  });

  it("has the printed shares of the variance, share of the gauge and number of classes", () => {
    const share = (deviation: number) => (100 * deviation ** 2) / figures.total ** 2;
    for (const [name, printed] of Object.entries(printedStudy.sharesPercent))
      expect(share(figures[name as keyof typeof figures]), name).toBeCloseTo(printed, 2);
    expect(figures.gaugePercent).toBeCloseTo(printedStudy.gaugePercent, 2);
    expect(figures.classes).toBe(printedStudy.classes);
  });
});

describe("a gauge study", () => {
  const normal = normalFrom(4);
  const spread = { part: 2, appraiser: 0.5, interaction: 0.6, repeat: 0.3 };
  const shifts = Array.from({ length: 40 }, () => spread.appraiser * normal());
  const made = Array.from({ length: 60 }, () => {
    const part = 60 + spread.part * normal();
    return shifts.map((shift) => {
      const cell = part + shift + spread.interaction * normal();
      return [0, 1, 2].map(() => cell + spread.repeat * normal());
    });
  });

  it("keeps a clear interaction and finds the spreads it was made with", () => {
    const study = studyGauge(made)!;
    expect(study.interaction.pooled).toBe(false);
    const figures = gaugeFigures(study.variances);
    // 60 parts, 40 appraisers: standard deviations known to about 1/sqrt(2·39), 11 %; three times that.
    expect(Math.abs(figures.repeat / spread.repeat - 1)).toBeLessThan(0.05);
    expect(Math.abs(figures.reproduce / Math.hypot(spread.appraiser, spread.interaction) - 1)).toBeLessThan(0.2);
    expect(Math.abs(figures.part / spread.part - 1)).toBeLessThan(0.3);
  });

  it("does not depend on where zero is, and scales with the unit", () => {
    const scaled = studyGauge(made.map((part) => part.map((cell) => cell.map((value) => 10 * value - 7))))!;
    const plain = studyGauge(made)!;
    expect(Math.sqrt(scaled.variances.repeat / plain.variances.repeat)).toBeCloseTo(10, 6);
    expect(scaled.interaction.p).toBeCloseTo(plain.interaction.p, 9);
  });

  it("finds no spread in figures that are all alike", () => {
    const study = studyGauge([0, 1].map((part) => [0, 1].map(() => [part, part])))!;
    expect(gaugeFigures(study.variances)).toMatchObject({ gauge: 0, gaugePercent: 0 });
  });

  it.each([
    ["one part", tenPartsThreeAppraisers.slice(0, 1)],
    ["one appraiser", tenPartsThreeAppraisers.map((part) => part.slice(0, 1))],
    ["one trial", tenPartsThreeAppraisers.map((part) => part.map((cell) => cell.slice(0, 1)))],
    ["a trial missing", tenPartsThreeAppraisers.map((part, p) => part.map((cell) => cell.slice(p === 4 ? 1 : 0)))],
  ])("has nothing to say of %s", (_, trials) => {
    expect(studyGauge(trials)).toBeNull();
  });
});
