import { instantWords } from "../instant-words.ts";
import { partWords } from "../mark-place.ts";
import type { Sheet } from "../paper/sheet.ts";
import { type Column, writeTable } from "../paper/table.ts";
import { write } from "../paper/text.ts";
import type { LeafRecord, RecordLeaf } from "../record-schema.ts";
import { figure } from "../wording.ts";

type PartColour = RecordLeaf["colours"][number]["parts"][number];

const labCells = (colour: PartColour | undefined): string[] =>
  colour
    ? [...colour.lab.map((value) => value.toFixed(1)), colour.u95 === null ? "none" : `± ${colour.u95.toFixed(1)}`]
    : ["", "", "", ""];

/** The colour of a leaf with one part, as a sentence a face; empty when it has more parts or was not measured. */
export const colourFact = ({ colours }: RecordLeaf): string =>
  colours
    .flatMap(({ face, parts: [colour, more] }) => {
      if (!colour || more) return [];
      const [L, a, b, u95] = labCells(colour);
      return [
        `face ${face}: L* ${L}, a* ${a}, b* ${b} (${colour.u95 === null ? "no known reference" : `${u95} ΔE00`})`,
      ];
    })
    .join("\n");

/** Both faces part by part, for a leaf with more than one part. */
export const writeColours = (sheet: Sheet, { colours }: RecordLeaf): void => {
  const of = (face: "A" | "B"): readonly PartColour[] => colours.find((one) => one.face === face)?.parts ?? [];
  const parts = (of("A").length > 0 ? of("A") : of("B")).map(({ part, kind }) => ({ part, kind }));
  if (parts.length < 2) return;
  write(sheet, "part", "Colour of the parts, CIELAB D65");
  const columns = (["A", "B"] as const).flatMap((face): Column[] => [
    { title: `${face}: L*`, share: 1.1, align: "right" },
    { title: "a*", share: 0.8, align: "right" },
    { title: "b*", share: 0.8, align: "right" },
    { title: "ΔE00, 95 %", share: 1.4, align: "right" },
  ]);
  writeTable(
    sheet,
    [{ title: "Part", share: 2.4 }, ...columns],
    parts.map(({ part, kind }) => [
      partWords({ name: part, kind }),
      ...(["A", "B"] as const).flatMap((face) => labCells(of(face).find((colour) => colour.part === part))),
    ]),
    8,
  );
  write(sheet, "small", "ΔE00, 95 %: the uncertainty of the colour itself; none: no known reference ties it.");
};

/** Bow, twist and cup as read, beside the agreed limits. */
export const writeShape = (sheet: Sheet, { shape }: RecordLeaf, { terms, job }: LeafRecord): void => {
  if (shape.length === 0) return;
  const limits = { bow: terms.shape.bowMm, twist: terms.shape.twistMm, cup: terms.shape.cupMm };
  write(sheet, "part", "Shape");
  writeTable(
    sheet,
    [
      { title: "When", share: 3 },
      { title: "What", share: 1.2 },
      { title: "Reading", share: 2, align: "right" },
      { title: "Agreed limit", share: 1.6, align: "right" },
      { title: "How, by whom", share: 5 },
    ],
    shape.map(({ at, kind, mm, how, by }) => [
      instantWords(at, job.timeZone),
      kind,
      `${figure(mm)} ± ${figure(terms.shape.uncertaintyMm)} mm`,
      `${figure(limits[kind])} mm`,
      `${how}, ${by}`,
    ]),
    8,
  );
};
