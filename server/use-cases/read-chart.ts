import { builtInCharts, type ChartChoice, lab65OfChart } from "../rules/chart-editions.ts";
import { isCgats, readCgats } from "./read-cgats.ts";
import { type Fault, readTable, refuse, refuseFaults, type TableRow } from "./read-table.ts";

type White = ChartChoice["white"];
type Lab = readonly [number, number, number];

/** Values of a chart, row by row from the brown patch, in the white they were stated in. */
export interface ChartValues {
  readonly white: White;
  readonly lab: [number, number, number][];
}

const what = "chart";

/** Names of the patches in the usual order, for sentences. */
const patchNames =
  "brown, light skin, blue sky, foliage, blue flower, bluish green, orange, purplish blue, moderate red, purple, yellow green, orange yellow, blue, green, red, yellow, magenta, cyan, white, light grey, grey, middle grey, dark grey, black".split(
    ", ",
  );

/**
 * Farthest that a patch may lie from the usual one, CIELAB units: half of what the two likest patches are apart (12.6, two
 * blues). Nearer than that it can be no other patch; editions differ by 2.4 at most.
 */
const farthest = 6.3;

interface Row {
  readonly line: number;
  readonly lab: Lab;
}

/** The light that the header of a CGATS text names: "D50", "Illumination=D65"; several words where it names several. */
const lightsNamed = (header: readonly string[]): string[] => [
  ...new Set(header.flatMap((line) => line.match(/(?<![A-Za-z0-9])D(?:50|55|65|75)(?![0-9])/g) ?? [])),
];

const whiteOf = (header: readonly string[], asked: White | null): White => {
  const named = lightsNamed(header);
  const [only] = named;
  const fault = (says: string): never => refuse(what, [{ at: "white", says }]);
  if (header.some((line) => /10\s*(°|deg)|ObserverAngle\s*=\s*10/i.test(line)))
    return fault("the values are for the 10 degree observer: export them for 2 degrees");
  if (named.length > 1 && asked === null) return fault(`the text names ${named.join(" and ")}: say which one it is`);
  if (named.length === 1 && only !== "D50" && only !== "D65")
    return fault(`the values are stated in ${only}: export them in D50 or D65`);
  if (named.length === 1 && asked !== null && only !== asked)
    return fault(`the text says ${only}, you said ${asked}: one of the two is wrong`);
  const white = asked ?? only;
  if (white === "D50" || white === "D65") return white;
  return fault(
    "the text does not say in which light the values are stated: say D50 or D65, as the paper with the chart does",
  );
};

const numberIn = (cell: string): number => {
  const plain = cell.replace("−", "-").replace(",", ".");
  return /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(plain) ? Number(plain) : Number.NaN;
};

/** L*, a*, b* of one row; what is no number or no colour is noted in `faults`. */
const rowOf = ({ line, cells }: TableRow, fields: readonly string[], faults: Fault[]): Row => {
  const value = (field: string, low: number, high: number): number => {
    const number = numberIn(cells[field] ?? "");
    if (!(number >= low && number <= high))
      faults.push({
        at: `line ${line}, ${field}`,
        says: `"${(cells[field] ?? "").slice(0, 40)}" is not a number from ${low} to ${high}`,
      });
    return number;
  };
  const [L = "", a = "", b = ""] = fields;
  return { line, lab: [value(L, 0, 100), value(a, -128, 128), value(b, -128, 128)] };
};

const cgatsRows = (text: string, asked: White | null) => {
  const { header, fields, rows } = readCgats(what, text);
  const needed = ["LAB_L", "LAB_A", "LAB_B"];
  const missing = needed.filter((field) => !fields.includes(field));
  refuseFaults(
    what,
    missing.map((field) => ({
      at: "BEGIN_DATA_FORMAT",
      says: `field ${field} is missing (there are ${fields.join(", ").slice(0, 200)}): export the chart as CIELAB`,
    })),
  );
  return { white: whiteOf(header, asked), needed, rows };
};

const tableRows = (text: string, asked: White | null) => {
  const [first = ""] = text.split(/\r|\n/, 1);
  const heading = first.replaceAll("*", "").replace(/lab_/gi, "");
  const needed = ["l", "a", "b"];
  const rows = readTable(what, heading + text.slice(first.length), { needed, optional: ["patch", "name", "id"] });
  return { white: whiteOf([], asked), needed, rows };
};

const distance = (one: Lab, other: Lab): number => Math.hypot(one[0] - other[0], one[1] - other[1], one[2] - other[2]);

const usual = builtInCharts.flatMap((chart) => lab65OfChart(chart).map((lab, patch) => ({ lab, patch })));

/** Number of the usual patch, of any edition, that a colour is like, and how far it is from it. */
const likest = (lab: Lab, white: White): { readonly patch: number; readonly far: number } => {
  const [seen = lab] = lab65OfChart({ white, lab: [lab] });
  return usual
    .map((one) => ({ patch: one.patch, far: distance(seen, one.lab) }))
    .reduce((nearest, one) => (one.far < nearest.far ? one : nearest));
};

const meanFar = (rows: readonly Row[], white: White): number =>
  rows.reduce((sum, { lab }) => sum + likest(lab, white).far, 0) / rows.length;

/** Each row to the patch it is like, whatever the order of the text; every fault names its line. */
const inOrder = (rows: readonly Row[], white: White): [number, number, number][] => {
  const other = white === "D50" ? "D65" : "D50";
  if (meanFar(rows, other) < meanFar(rows, white) / 2)
    refuse(what, [{ at: "white", says: `the values fit the chart in ${other}, not in ${white}: say ${other}` }]);
  const placed = rows.map((row) => ({ ...row, ...likest(row.lab, white) }));
  refuseFaults(
    what,
    placed.flatMap(({ line, lab, patch, far }) => {
      const name = patchNames[patch] ?? "";
      const before = placed.find((one) => one.patch === patch);
      if (far > farthest)
        return [
          {
            at: `line ${line}`,
            says: `${lab.join(" ")} is like no patch of the 24-patch chart (nearest: ${name}, ${far.toFixed(1)} away)`,
          },
        ];
      return before && before.line < line
        ? [{ at: `line ${line}`, says: `is the ${name} patch a second time, after line ${before.line}` }]
        : [];
    }),
  );
  return placed.toSorted((one, another) => one.patch - another.patch).map(({ lab: [L, a, b] }) => [L, a, b]);
};

/**
 * The values of a 24-patch chart from CGATS.17 text or a table (CSV, semicolons or tabs) with columns L, a, b. `asked` is the
 * white a person named, null to take it from the text. Throws a Refusal (422) with the line of every fault.
 */
export const readChart = (text: string, asked: White | null): ChartValues => {
  if (text.trim() === "") refuse(what, [{ at: "the text", says: "is empty: paste the values or choose the file" }]);
  if (text.includes("\uFFFD") || text.includes("\0"))
    refuse(what, [{ at: "the file", says: "is no text: export the values as CGATS.17 or CSV" }]);
  const { white, needed, rows: read } = isCgats(text) ? cgatsRows(text, asked) : tableRows(text, asked);
  const faults: Fault[] = [];
  const rows = read.map((row) => rowOf(row, needed, faults));
  refuseFaults(what, faults);
  if (rows.length !== 24) refuse(what, [{ at: "the text", says: `has ${rows.length} patches: a chart here has 24` }]);
  return { white, lab: inOrder(rows, white) };
};
