import { type Frame, figure } from "./paper/figure.ts";
import { printable } from "./paper/lines.ts";
import { closeSheet, ensure, ink, openSheet, pt, type Sheet } from "./paper/sheet.ts";
import { writeTable } from "./paper/table.ts";
import { write } from "./paper/text.ts";

interface Looking {
  readonly space: string | null;
  readonly face: "A" | "B";
}

/** A leaf in its opening. `sides` are what stands on side 0 and side 1; `hinge` is the hinge side seen from side 0. */
export interface AllottedLeaf {
  readonly opening: string;
  /** "left" or "right" as seen from side 0 in an opening for two, else empty. */
  readonly place: string;
  readonly leaf: string;
  readonly sides: readonly [Looking, Looking];
  readonly hinge: "left" | "right" | null;
  readonly opensTowards: string | null;
}

/** What an allotment sheet says: the job, the time of the plan in words, one entry a leaf. */
export interface AllotmentWords {
  readonly job: string;
  readonly plannedAt: string;
  readonly leaves: readonly AllottedLeaf[];
}

const spaceWords = ({ space }: Looking): string => space ?? "no one's view";

const hingeWords = ({ hinge, opensTowards, sides }: AllottedLeaf): string => {
  if (hinge === null) return "not told";
  const towards = opensTowards === null ? "" : `, opens towards ${opensTowards}`;
  return `${hinge}, seen from ${spaceWords(sides[0])}${towards}`;
};

/** The top edge seen from above, standing on side 0: the far side above, the near side below, the hinges at one end. */
const drawStrip = ({ doc, has }: Sheet, allotted: AllottedLeaf, { x, y, w, h }: Frame): void => {
  const [near, far] = allotted.sides;
  const end = pt(24);
  doc.rect(x, y, w, h).lineWidth(0.7).strokeColor(ink.text).stroke();
  const middle = { width: w - 2 * end, align: "center", lineBreak: false, ellipsis: true } as const;
  doc.fillColor(ink.text).font("text").fontSize(9);
  doc.text(printable(`▲ face ${far.face} to ${spaceWords(far)}`, has), x + end, y + 4, middle);
  doc.text(printable(`▼ face ${near.face} to ${spaceWords(near)}`, has), x + end, y + h - 16, middle);
  doc.font("bold").fontSize(20);
  const place = allotted.place === "" ? "" : ` ${allotted.place}`;
  doc.text(`${allotted.opening}${place} · ${allotted.leaf} · TOP`, x + end, y + h / 2 - 13, middle);
  for (const side of ["left", "right"] as const) {
    const left = side === "left" ? x : x + w - end;
    if (allotted.hinge === side) doc.rect(left, y, end, h).fill(ink.text);
    else doc.rect(left, y, end, h).lineWidth(0.4).stroke();
    doc
      .fillColor(allotted.hinge === side ? "#ffffff" : ink.soft)
      .font("bold")
      .fontSize(9);
    const words = allotted.hinge === null ? "?" : allotted.hinge === side ? "HINGES" : "lock";
    doc.text(words, left, y + h / 2 - 6, { width: end, align: "center", lineBreak: false });
  }
};

/** The plan as an A4 PDF: the list by opening, then a strip a leaf to lay on its top edge. `date` is ISO 8601. */
export const allotmentSheet = (plan: AllotmentWords, date: string): Promise<Buffer> => {
  const sheet = openSheet({ title: `Allotment, ${plan.job}`, date });
  write(sheet, "title", "Which leaf hangs where");
  write(sheet, "body", `${plan.job}. Planned ${plan.plannedAt}.`);
  writeTable(
    sheet,
    [
      { title: "Opening", share: 1.5, bold: true },
      { title: "Leaf", share: 1.3 },
      { title: "Face A looks into", share: 3 },
      { title: "Face B looks into", share: 3 },
      { title: "Hinges", share: 4 },
    ],
    plan.leaves.map((allotted) => {
      const into = (face: "A" | "B"): string =>
        allotted.sides
          .filter((side) => side.face === face)
          .map(spaceWords)
          .join();
      const opening = `${allotted.opening}${allotted.place === "" ? "" : ` ${allotted.place}`}`;
      return [opening, allotted.leaf, into("A"), into("B"), hingeWords(allotted)];
    }),
    9,
  );
  write(sheet, "section", "Strips for the top edges");
  write(
    sheet,
    "body",
    "Each strip is the top edge seen from above. Cut them out, lay them on the top edge or fix them to the wrapping, never on the lacquer. Top edge and label of a fire leaf stay as they are.",
  );
  for (const allotted of plan.leaves) {
    const height = pt(22);
    ensure(sheet, height + pt(4));
    const frame = { x: sheet.left, y: sheet.doc.y, w: sheet.width, h: height };
    const alt = `Top edge of leaf ${allotted.leaf} for opening ${allotted.opening}, hinges ${hingeWords(allotted)}`;
    figure(sheet, alt, frame, () => drawStrip(sheet, allotted, frame));
    sheet.doc.y = frame.y + height + pt(4);
  }
  return closeSheet(sheet, (page, of) => ({
    left: "Allotment",
    right: `${printable(plan.job, sheet.has)} · page ${page} of ${of}`,
    foot: "Left and right are as seen from the side named.",
  }));
};
