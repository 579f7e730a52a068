import { describe, expect, test } from "vitest";
import { cardCodeMm, cardCodesMm, printedCard, readCardCode } from "../../../analysis/reference-card.ts";
import { readCodes } from "../../../server/images/read-codes.ts";
import { cardSheet } from "../../../server/records/card-sheet.ts";
import { paint, paintedRectangles } from "./painted.ts";
import { readPdf } from "./read-pdf.ts";

const date = "2026-03-03T10:00:00+00:00";
const mm = (pt: number): number => (pt * 25.4) / 72;

describe("the printed card is the card that photos are read by", () => {
  test("its four codes are found where the geometry has them, each with its corner", async () => {
    const [page = []] = paintedRectangles(await cardSheet("7K3QD", date));
    const pxPerMm = 4;
    const codes = await readCodes(paint(page, pxPerMm), () => true);
    const found = codes.map(({ text, corners }) => ({ code: readCardCode(text), corners }));
    expect(new Set(found.map(({ code }) => code?.corner))).toEqual(new Set([1, 2, 3, 4]));
    for (const { code, corners } of found) {
      expect(code?.id).toBe("7K3QD");
      const [x, y] = cardCodesMm[(code?.corner ?? 1) - 1] ?? [0, 0];
      // The reader gives whole pixels of half the picture: 0.5 mm, and some at a corner.
      expect(Math.abs(corners[0][0] / pxPerMm - x)).toBeLessThan(1.5);
      expect(Math.abs(corners[0][1] / pxPerMm - y)).toBeLessThan(1.5);
      expect(Math.abs(corners[2][0] / pxPerMm - x - cardCodeMm)).toBeLessThan(1.5);
    }
  });

  test("greys and black lie where the patches are, lightest to darkest as named", async () => {
    const [page = []] = paintedRectangles(await cardSheet("7K3QD", date));
    const wanted = { "grey-25": 0.75, "grey-50": 0.5, "grey-75": 0.25, black: 0 };
    for (const [name, grey] of Object.entries(wanted)) {
      const [x, y, w, h] = printedCard.patches.find((patch) => patch.name === name)?.rectMm ?? [0, 0, 0, 0];
      const at = page.find((one) => Math.abs(mm(one.x) - x) < 0.01 && Math.abs(mm(one.y) - y) < 0.01);
      expect(at && [mm(at.w), mm(at.h)].map((side) => Math.round(side * 100) / 100), name).toEqual([w, h]);
      expect(at?.grey).toBeCloseTo(grey, 2);
    }
  });

  test("no field is painted into the four modules of white round a code", async () => {
    const [page = []] = paintedRectangles(await cardSheet("7K3QD", date));
    const quiet = (4 * cardCodeMm) / 21;
    for (const [x, y] of cardCodesMm) {
      const intruders = page.filter((one) => {
        const [left, top, right, bottom] = [mm(one.x), mm(one.y), mm(one.x + one.w), mm(one.y + one.h)];
        const near =
          right > x - quiet && left < x + cardCodeMm + quiet && bottom > y - quiet && top < y + cardCodeMm + quiet;
        const own =
          left > x - 0.01 && right < x + cardCodeMm + 0.01 && top > y - 0.01 && bottom < y + cardCodeMm + 0.01;
        return near && !own;
      });
      expect(intruders).toEqual([]);
    }
  });
});

test("it says its id and how to print it, and the same id gives the same bytes", async () => {
  const card = await cardSheet("7K3QD", date);
  const { pages, alts } = await readPdf(card);
  expect(pages).toHaveLength(1);
  expect(pages[0]).toContain("7K3QD");
  expect(pages[0]).toContain("matt white paper at 100 %");
  expect(pages[0]).toContain("This rule is 100 mm long from end to end.");
  expect(pages[0]).toContain("flat on the leaf's face");
  expect(alts).toContain("A rule of 100 mm");
  expect((await cardSheet("7K3QD", date)).equals(card)).toBe(true);
});
