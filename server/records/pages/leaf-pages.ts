import { instantWords } from "../instant-words.ts";
import { partWords } from "../mark-place.ts";
import { drawGap, drawPicture, drawScale, type Frame, type RowFigure, writeFigures } from "../paper/figure.ts";
import { drawLeaf } from "../paper/leaf-drawing.ts";
import { ink, type Sheet } from "../paper/sheet.ts";
import { type Column, writeFacts, writeTable } from "../paper/table.ts";
import { write } from "../paper/text.ts";
import type { LeafRecord, RecordLeaf, RecordMark, RecordPicture } from "../record-schema.ts";
import { causeWords, figure, identityWord, leafSize, markName } from "../wording.ts";

/** The JPEG copies by the name of their picture. */
export type Copies = ReadonlyMap<string, Buffer>;

const proportionOf = (record: LeafRecord, picture: RecordPicture): number => {
  if (picture.box) return picture.box.w / picture.box.h;
  const photo = record.photos.find(({ id }) => id === picture.photo);
  return photo ? photo.width / photo.height : 1.5;
};

const photoNumber = (record: LeafRecord, picture: RecordPicture): string =>
  `photo ${record.photos.findIndex(({ id }) => id === picture.photo) + 1}`;

const drawCopy = (sheet: Sheet, picture: RecordPicture, copies: Copies, frame: Frame): void => {
  const copy = copies.get(picture.name);
  if (copy) drawPicture(sheet, copy, frame);
  else drawGap(sheet, picture.copy.kind === "missing" ? picture.copy.why : "No picture.", frame);
};

const drawOutline = ({ doc }: Sheet, { box }: RecordPicture, mark: RecordMark, { x, y, w }: Frame): void => {
  if (!box) return;
  const scale = w / box.w;
  const [left, top] = [x + (mark.box.x - box.x) * scale - 3, y + (mark.box.y - box.y) * scale - 3];
  const [wide, high] = [mark.box.w * scale + 6, mark.box.h * scale + 6];
  doc.rect(left, top, wide, high).lineWidth(2).strokeColor("#ffffff").stroke();
  doc.rect(left, top, wide, high).lineWidth(0.8).strokeColor(ink.text).stroke();
};

const faceFigures = (sheet: Sheet, record: LeafRecord, leaf: RecordLeaf, copies: Copies): RowFigure[] =>
  (["A", "B"] as const).flatMap((face): RowFigure[] => {
    const { pattern } = leaf;
    const onFace = leaf.opening?.faces.find((candidate) => candidate.face === face);
    const marks = leaf.marks.flatMap((mark, i) => (mark.face === face ? [{ number: i + 1, box: mark.box }] : []));
    const looks = onFace?.space ? `, to ${onFace.space}` : "";
    const hinges = onFace?.hangingSide ? `, hinges ${onFace.hangingSide}` : "";
    const drawing: RowFigure = {
      alt: `Face ${face} of leaf ${leaf.code} drawn to scale, ${marks.length} marks`,
      caption: `Face ${face} as drawn${looks}${hinges}${marks.length === 0 ? ", no marks" : ""}`,
      proportion: pattern.widthMm / pattern.heightMm,
      draw: (frame) => drawLeaf(sheet, pattern, marks, onFace?.hangingSide ?? null, frame),
    };
    const picture = record.pictures.find(
      ({ name, leaf: shown }) => shown === leaf.code && name === `${leaf.code}-${face}`,
    );
    if (!picture) return [drawing];
    const straight = picture.view === "whole" ? ", cut straight" : ", as taken";
    const photo: RowFigure = {
      alt: `Face ${face} of leaf ${leaf.code} in ${photoNumber(record, picture)}`,
      caption: `Face ${face}, ${photoNumber(record, picture)}${straight}`,
      proportion: proportionOf(record, picture),
      draw: (frame) => drawCopy(sheet, picture, copies, frame),
    };
    return [drawing, photo];
  });

const markFigures = (sheet: Sheet, record: LeafRecord, mark: RecordMark, copies: Copies): RowFigure[] =>
  record.pictures
    .filter((picture) => picture.mark === mark.id)
    .flatMap((picture): RowFigure[] => {
      const from = photoNumber(record, picture);
      const base = { proportion: proportionOf(record, picture) };
      const plain = (frame: Frame): void => drawCopy(sheet, picture, copies, frame);
      if (picture.view === "as-taken")
        return [{ ...base, alt: `${from} as taken`, caption: `${from} as taken, no scale`, draw: plain }];
      const { box } = picture;
      if (!box) return [];
      if (picture.view === "around") {
        const draw = (frame: Frame): void => {
          plain(frame);
          drawOutline(sheet, picture, mark, frame);
          drawScale(sheet, frame, box.w);
        };
        const caption = `The mark and what is round it, ${figure(box.w, 0)} mm wide, ${from}. The line is drawn in.`;
        return [{ ...base, alt: caption, caption, draw }];
      }
      const fineness =
        picture.photoPxPerMm === null ? "" : ` The photo holds ${figure(picture.photoPxPerMm, 1)} px/mm.`;
      const scaled = (frame: Frame): void => {
        plain(frame);
        drawScale(sheet, frame, box.w);
      };
      return [
        {
          ...base,
          alt: `Close view with a scale in mm, ${from}`,
          caption: `Close, with scale, ${from}.${fineness}`,
          draw: scaled,
        },
        {
          ...base,
          alt: `The same close view without a scale`,
          caption: "The same without anything on it.",
          draw: plain,
        },
      ];
    });

type PartColour = RecordLeaf["colours"][number]["parts"][number];

const labCells = (colour: PartColour | undefined): string[] =>
  colour
    ? [...colour.lab.map((value) => value.toFixed(1)), colour.u95 === null ? "none" : `± ${colour.u95.toFixed(1)}`]
    : ["", "", "", ""];

/** The colour of a leaf with one part, as a sentence a face; empty when it has more parts or was not measured. */
const colourFact = ({ colours }: RecordLeaf): string =>
  colours
    .flatMap(({ face, parts: [colour, more] }) => {
      if (!colour || more) return [];
      const [L, a, b, u95] = labCells(colour);
      return [
        `face ${face}: L* ${L}, a* ${a}, b* ${b} (${colour.u95 === null ? "no known reference" : `${u95} ΔE00`})`,
      ];
    })
    .join("\n");

const writeColours = (sheet: Sheet, { colours }: RecordLeaf): void => {
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

const writeShape = (sheet: Sheet, { shape }: RecordLeaf, { terms, job }: LeafRecord): void => {
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

const writeMark = (sheet: Sheet, record: LeafRecord, mark: RecordMark, number: number, copies: Copies): void => {
  write(sheet, "part", `Mark ${number}: ${markName(mark.kind)}, face ${mark.face}, ${mark.place}`);
  write(sheet, "body", mark.says);
  write(sheet, "body", `By the agreed limits: ${mark.judgement.why}`);
  const cause = causeWords(mark.party, mark.by);
  if (cause !== "") write(sheet, "body", cause);
  if (mark.note !== "") write(sheet, "body", `Note by ${mark.by}: ${mark.note}`);
  writeFigures(sheet, markFigures(sheet, record, mark, copies), { columns: 3, highestMm: 47 });
};

const writeLeaf = (sheet: Sheet, record: LeafRecord, leaf: RecordLeaf, copies: Copies): void => {
  const { timeZone } = record.job;
  sheet.doc.addPage();
  write(sheet, "section", `Leaf ${leaf.code}${leaf.item === "" ? "" : `: ${leaf.item}`}`);
  sheet.doc.y += 10;
  writeFigures(sheet, faceFigures(sheet, record, leaf, copies), { columns: 4, highestMm: 74, roomMm: 2 });
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

/** Photos as taken, each with its kind, its number in the list and its time. */
export const photoFigures = (
  sheet: Sheet,
  record: LeafRecord,
  pictures: readonly RecordPicture[],
  copies: Copies,
): RowFigure[] =>
  pictures.map((picture) => {
    const photo = record.photos.find(({ id }) => id === picture.photo);
    const taken = photo?.takenAt ? `, ${instantWords(photo.takenAt, record.job.timeZone)}` : "";
    const caption = `${photo?.kind ?? "photo"}, ${photoNumber(record, picture)}${taken}${photo?.note ? `: ${photo.note}` : ""}`;
    return {
      alt: caption,
      caption,
      proportion: proportionOf(record, picture),
      draw: (frame) => drawCopy(sheet, picture, copies, frame),
    };
  });

/** One leaf a page, and more where it needs them: drawn, photographed, decided, its marks close by. */
export const writeLeafPages = (sheet: Sheet, record: LeafRecord, copies: Copies): void => {
  for (const leaf of record.leaves) writeLeaf(sheet, record, leaf, copies);
};
