import { instantWords } from "../instant-words.ts";
import { writeFigures } from "../paper/figure.ts";
import { ensure, pt, type Sheet } from "../paper/sheet.ts";
import { writeFacts } from "../paper/table.ts";
import { write } from "../paper/text.ts";
import type { LeafRecord, RecordLeaf, RecordMark } from "../record-schema.ts";
import { causeWords, identityWord, leafSize, markName } from "../wording.ts";
import { type Copies, faceFigures, markFigures, photoFigures } from "./leaf-figures.ts";
import { colourFact, writeColours, writeShape } from "./leaf-measures.ts";

const writeMark = (sheet: Sheet, record: LeafRecord, mark: RecordMark, number: number, copies: Copies): void => {
  write(sheet, "part", `Mark ${number}: ${markName(mark.kind)}, face ${mark.face}, ${mark.place}`);
  write(sheet, "body", mark.says);
  write(sheet, "body", `By the agreed limits: ${mark.judgement.why}`);
  const cause = causeWords(mark.party, mark.by);
  if (cause !== "") write(sheet, "body", cause);
  if (mark.note !== "") write(sheet, "body", `Note by ${mark.by}: ${mark.note}`);
  const figures = markFigures(sheet, record, mark, copies);
  writeFigures(sheet, figures, { columns: figures.length > 3 ? 4 : 3, highestMm: 47 });
};

/** Nothing but a face and a few facts: two such leaves share a page. */
const isShort = ({ marks, shape, pattern }: RecordLeaf): boolean =>
  marks.length === 0 && shape.length === 0 && pattern.parts.length === 1;

const writeLeaf = (sheet: Sheet, record: LeafRecord, leaf: RecordLeaf, copies: Copies): void => {
  const { timeZone } = record.job;
  const short = isShort(leaf);
  write(sheet, "section", `Leaf ${leaf.code}${leaf.item === "" ? "" : `: ${leaf.item}`}`);
  sheet.doc.y += 10;
  writeFigures(sheet, faceFigures(sheet, record, leaf, copies), { columns: 4, highestMm: short ? 50 : 74, roomMm: 2 });
  const decision = leaf.decision;
  writeFacts(sheet, [
    ["Decision", leaf.says],
    ["Reason", decision?.reason ?? ""],
    ["Cause", decision ? causeWords(decision.party, decision.by) : ""],
    ["Opening", leaf.opening ? `${leaf.opening.code} at the time of issue` : "not placed at the time of issue"],
    [
      "Identity",
      `${identityWord(leaf.identity)}; line ${leaf.line ?? "none"}; ${leafSize(leaf.pattern, leaf.thicknessMm)}`,
    ],
    ["Batch", leaf.batch ?? ""],
    ["Matched pair", leaf.pairWith ? `with ${leaf.pairWith}, one unit` : ""],
    ["Replaces", leaf.replaces ?? ""],
    ["Unwrapped", leaf.unwrappedAt ? instantWords(leaf.unwrappedAt, timeZone) : "not recorded"],
    ["Condition", leaf.condition],
    ["Colour, CIELAB D65", leaf.colours.length === 0 ? "not measured" : colourFact(leaf)],
  ]);
  writeShape(sheet, leaf, record);
  for (const [index, mark] of leaf.marks.entries()) writeMark(sheet, record, mark, index + 1, copies);
  writeColours(sheet, leaf);
  const others = record.pictures.filter(
    ({ leaf: shown, mark, view, face, name }) =>
      shown === leaf.code && mark === null && view === "as-taken" && face === null && !/-[AB]$/.test(name),
  );
  if (others.length === 0) return;
  write(sheet, "part", "Further photos");
  writeFigures(sheet, photoFigures(sheet, record, others, copies), { columns: 3, highestMm: 60, roomMm: 2 });
};

/** One leaf a page, more where it needs them, two short ones on one: drawn, photographed, decided, its marks close by. */
export const writeLeafPages = (sheet: Sheet, record: LeafRecord, copies: Copies): void => {
  for (const [index, leaf] of record.leaves.entries()) {
    if (index === 0 || !isShort(leaf)) sheet.doc.addPage();
    else ensure(sheet, pt(124));
    writeLeaf(sheet, record, leaf, copies);
  }
};
