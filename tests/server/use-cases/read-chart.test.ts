import { describe, expect, test } from "vitest";
import { lab65FromLab50 } from "../../../analysis/colour/lab.ts";
import { Refusal } from "../../../server/problem.ts";
import { readChart } from "../../../server/use-cases/read-chart.ts";
import { chart24, chart24Since2014 } from "../../published/chart24.ts";

const before = chart24.map(({ labD50 }) => [...labD50]);
const since = chart24Since2014.map((lab) => [...lab]);

/** A CGATS text as spectrophotometer software writes it. */
const cgats = (
  lab: readonly (readonly (number | string)[])[],
  {
    keywords = ['WEIGHTING_FUNCTION\t"ILLUMINANT, D50"'],
    fields = "SAMPLE_ID LAB_L LAB_A LAB_B",
    sets = lab.length,
  } = {},
): string =>
  [
    "CGATS.17",
    'ORIGINATOR "a laboratory"',
    ...keywords,
    "# 24 patches, measured at 0/45",
    `NUMBER_OF_FIELDS ${fields.split(" ").length}`,
    "BEGIN_DATA_FORMAT",
    fields,
    "END_DATA_FORMAT",
    `NUMBER_OF_SETS ${sets}`,
    "BEGIN_DATA",
    ...lab.map((values, i) => [`"P ${i + 1}"`, ...values].join("\t")),
    "END_DATA",
    "",
  ].join("\r\n");

const csv = (lab: readonly (readonly (number | string)[])[], heading = "patch,L,a,b"): string =>
  [heading, ...lab.map((values, i) => [`p${i + 1}`, ...values].join(","))].join("\n");

/** What a text is refused for: the sentence and the places. */
const refusalOf = (text: string, white: "D50" | "D65" | null = null) => {
  try {
    readChart(text, white);
  } catch (error) {
    if (error instanceof Refusal) return error;
    throw error;
  }
  throw new Error("it was taken");
};

describe("the values of a chart", () => {
  test.each([
    ["before", before],
    ["since", since],
  ])("come from CGATS text as they stand in it (%s November 2014)", (_, lab) => {
    expect(readChart(cgats(lab), null)).toEqual({ white: "D50", lab });
  });

  test("come from a table with commas, semicolons or tabs, decimal commas and stars", () => {
    expect(readChart(csv(before), "D50").lab).toEqual(before);
    const semicolons = csv(before, "patch,L*,a*,b*").replaceAll(",", ";").replaceAll(".", ",");
    expect(readChart(semicolons, "D50").lab).toEqual(before);
    expect(readChart(csv(before, "Name,LAB_L,LAB_A,LAB_B").replaceAll(",", "\t"), "D50").lab).toEqual(before);
  });

  test("come in any order: each is known by its colour", () => {
    const columnByColumn = before.map((_, i) => before[6 * (i % 4) + Math.floor(i / 4)] ?? []);
    expect(readChart(cgats(columnByColumn), null).lab).toEqual(before);
    expect(readChart(csv(before.toReversed()), "D50").lab).toEqual(before);
  });

  test("may be stated in D65", () => {
    const in65 = before.map(([l = 0, a = 0, b = 0]) => [...lab65FromLab50([l, a, b])]);
    expect(readChart(cgats(in65, { keywords: ['ILLUMINATION_NAME "D65"'] }), null)).toEqual({
      white: "D65",
      lab: in65,
    });
    expect(readChart(csv(in65), "D65").white).toBe("D65");
    const both = cgats(in65, { keywords: ['MEASURED_IN "D50"', 'STATED_IN "D65"'] });
    expect(readChart(both, "D65").white).toBe("D65");
  });
});

describe("a text that is no chart is refused", () => {
  const broken = (row: number, values: readonly (number | string)[]) => before.with(row, values as number[]);

  test.each<[string, string, "D50" | "D65" | null, RegExp]>([
    ["empty", "  \n", null, /is empty: paste the values/],
    ["a picture", "\0\0PNG", null, /is no text: export the values/],
    ["without its light", cgats(before, { keywords: [] }), null, /does not say in which light.*say D50 or D65/],
    ["with two lights", cgats(before, { keywords: ['A "D50"', 'B "D65"'] }), null, /names D50 and D65: say which/],
    ["in another light", cgats(before, { keywords: ['A "D55"'] }), "D50", /stated in D55: export them in D50 or D65/],
    ["against what was said", cgats(before), "D65", /the text says D50, you said D65/],
    ["in D50 called D65", csv(before), "D65", /fit the chart in D50, not in D65: say D50/],
    ["for 10 degrees", cgats(before, { keywords: ['A "D50, 10 degree"'] }), null, /10 degree observer.*2 degrees/],
    ["without a field", cgats(before, { fields: "SAMPLE_ID LAB_L LAB_A LAB_X" }), null, /field LAB_B is missing/],
    ["without fields at all", cgats(before).replace("BEGIN_DATA_FORMAT", "FORMAT"), null, /no BEGIN_DATA_FORMAT/],
    ["cut off", cgats(before).replace("END_DATA\r\n", ""), null, /BEGIN_DATA has no END_DATA after it/],
    ["with a count that lies", cgats(before, { sets: 23 }), null, /line 9: NUMBER_OF_SETS says 23, but there are 24/],
    ["with a value missing", cgats(broken(2, [49.9, -4.9])), null, /line 13: has 3 values, 4 are expected/],
    [
      "with a word for a number",
      cgats(broken(2, [49.9, "x", -21.9])),
      null,
      /line 13, LAB_A: "x" is not a number from -128/,
    ],
    [
      "with L beyond 100",
      cgats(broken(18, [196.5, -0.4, 1.2])),
      null,
      /line 29, LAB_L: "196.5" is not a number from 0 to 100/,
    ],
    ["with a patch of no chart", csv(broken(0, [90, 60, -60])), "D50", /line 2: 90 60 -60 is like no patch.*nearest/],
    [
      "with a patch twice",
      csv(broken(1, before[0] ?? [])),
      "D50",
      /line 3: is the brown patch a second time, after line 2/,
    ],
    ["of 23 patches", csv(before.slice(1)), "D50", /has 23 patches: a chart here has 24/],
    ["a table without a column", csv(before, "patch,L,a,c"), "D50", /line 1: column b is missing/],
  ])("%s", (_, text, white, says) => {
    const refusal = refusalOf(text, white);
    expect(refusal.status).toBe(422);
    expect(refusal.message).toMatch(says);
  });

  test("with every fault named by its line", () => {
    const faults = refusalOf(cgats(before.with(3, ["?", 0, 0] as never).with(7, [1, 2, 300]))).faults;
    expect(faults?.map(({ at }) => at)).toEqual(["line 14, LAB_L", "line 18, LAB_B"]);
  });
});
