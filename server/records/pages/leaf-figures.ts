import { instantWords } from "../instant-words.ts";
import { drawGap, drawPicture, drawScale, type Frame, type RowFigure } from "../paper/figure.ts";
import { drawLeaf } from "../paper/leaf-drawing.ts";
import { ink, type Sheet } from "../paper/sheet.ts";
import type { LeafRecord, RecordLeaf, RecordMark, RecordPicture } from "../record-schema.ts";
import { figure } from "../wording.ts";

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

/** Both faces of a leaf, each drawn to scale and as photographed. */
export const faceFigures = (sheet: Sheet, record: LeafRecord, leaf: RecordLeaf, copies: Copies): RowFigure[] =>
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

/** The pictures of a mark: what is round it, close with a scale, the same without, and the photo it was seen in. */
export const markFigures = (sheet: Sheet, record: LeafRecord, mark: RecordMark, copies: Copies): RowFigure[] =>
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
