import { describe, expect, it } from "vitest";
import { holdToRepeats, limitBetween } from "../../../analysis/repeat/reliable-difference.ts";
import { type Repeatability, repeatabilityOf } from "../../../analysis/repeat/repeatability.ts";
import { makeReadings, singles } from "./made-readings.ts";

const spread = { photo: [0.5, 0.1, 0.2], part: [0.1, 0.1, 0.1] } as const;

describe("the limit between two faces", () => {
  const lineUps = Array.from({ length: 6 }, (_, t) => ({
    photo: `r${t}`,
    faces: ["R0/A", "R1/A"],
    tie: `component ${t}`,
  }));
  const known: Repeatability = repeatabilityOf(makeReadings([...singles(3, 3), ...lineUps], spread, 1));

  it("is that of the way their photos were taken, and falls with the number of photos", () => {
    const [apart, beside] = [known.byReference!.all.limit, known.sideBySide!.all.limit];
    expect(limitBetween(known, { one: 1, other: 1, together: 0 })).toBeCloseTo(apart, 12);
    expect(limitBetween(known, { one: 4, other: 4, together: 0 })).toBeCloseTo(apart / 2, 12);
    expect(limitBetween(known, { one: 3, other: 2, together: 1 })).toBeCloseTo(beside, 12);
    expect(limitBetween(known, { one: 0, other: 0, together: 4 })).toBeCloseTo(beside / 2, 12);
    expect(beside).toBeLessThan(apart);
  });

  it("is not told without a reference, nor from too few repeats", () => {
    expect(limitBetween(known, { one: 0, other: 2, together: 0 })).toBeNull();
    const few = repeatabilityOf(makeReadings(singles(2, 3), spread, 2));
    expect(few.byReference?.enough).toBe(false);
    expect(limitBetween(few, { one: 1, other: 1, together: 0 })).toBeNull();
    expect(limitBetween(repeatabilityOf([]), { one: 1, other: 1, together: 1 })).toBeNull();
  });

  it("has a row for each kind of part", () => {
    expect(known.byReference?.kinds.map(({ kind }) => kind)).toEqual(["panel", "stile"]);
  });
});

describe("a difference held to what repeats show", () => {
  const held = (deltaE: number, u95: number, verdict: "match" | "differs" | "cannot-tell", limit: number) =>
    holdToRepeats({ deltaE, u95, verdict }, limit, 2, 0.95);

  it("keeps its verdict where repeats are closer than its own interval", () => {
    expect(held(0.5, 0.4, "match", 0.3)).toEqual({ deltaE: 0.5, u95: 0.4, verdict: "match", withinRepeats: false });
    expect(held(0.2, 0.4, "match", 0.3)).toMatchObject({ verdict: "match", withinRepeats: true });
    expect(held(2.6, 0.4, "differs", 0.3)).toMatchObject({ verdict: "differs", withinRepeats: false });
  });

  it("takes the limit for its interval where that is wider, and stands if it is clear all the same", () => {
    expect(held(0.3, 0.2, "match", 0.8)).toEqual({ deltaE: 0.3, u95: 0.8, verdict: "match", withinRepeats: true });
    expect(held(3.5, 0.2, "differs", 0.8)).toMatchObject({ u95: 0.8, verdict: "differs", withinRepeats: false });
  });

  it("cannot be told where the limit reaches the tolerance", () => {
    expect(held(1.6, 0.2, "match", 0.8)).toMatchObject({ verdict: "cannot-tell", withinRepeats: false });
    expect(held(2.3, 0.2, "differs", 0.8)).toMatchObject({ verdict: "cannot-tell" });
    // Photos of one face differ by more than is agreed: not even equal faces are a match.
    expect(held(0, 0.2, "match", 2.1)).toMatchObject({ verdict: "cannot-tell", withinRepeats: true });
  });

  it("is never made surer, and no difference beyond the tolerance both differs and is unreliable", () => {
    for (let deltaE = 0; deltaE < 6; deltaE += 0.1)
      for (let limit = 0.05; limit < 6; limit += 0.15)
        for (const verdict of ["match", "differs", "cannot-tell"] as const) {
          if ((verdict === "match" && deltaE > 2) || (verdict === "differs" && deltaE <= 2)) continue;
          const now = held(deltaE, 0.1, verdict, limit);
          expect([verdict, "cannot-tell"]).toContain(now.verdict);
          if (now.withinRepeats) expect(now.verdict).not.toBe("differs");
        }
  });
});
