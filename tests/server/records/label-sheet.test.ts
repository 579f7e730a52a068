import { expect, test } from "vitest";
import { labelId } from "../../../analysis/locate/label-code.ts";
import { readCodes } from "../../../server/images/read-codes.ts";
import { codeOfLabel, labelSheet, twelveLabels } from "../../../server/records/label-sheet.ts";
import { paint, paintedRectangles } from "./painted.ts";
import { readPdf } from "./read-pdf.ts";

const date = "2026-03-03T10:00:00+00:00";
const labels = Array.from({ length: 13 }, (_, i) => ({
  leaf: i === 12 ? "W03R-LONG.12" : `W${String(i + 1).padStart(2, "0")}`,
  labelId: i % 2 === 0 ? null : labelId(Uint8Array.from({ length: 13 }, (_, place) => i * place)),
  opening: i === 0 ? null : `1.${i}`,
  item: "walnut flush 926",
}));

test("every label has a code that reads as its id, or as the address of a leaf from before", async () => {
  const pages = paintedRectangles(await labelSheet(labels, date));
  expect(pages).toHaveLength(2);
  const codes = await Promise.all(pages.map((page) => readCodes(paint(page, 6), () => true)));
  expect(
    codes
      .flat()
      .map(({ text }) => text)
      .sort(),
  ).toEqual(labels.map((label) => codeOfLabel(label)).sort());
});

test("a code is at least 20 mm wide and lies on its own label, start and nudge counted in", async () => {
  const grid = { ...twelveLabels, start: 3, nudgeMm: [1, -1] as const };
  const [page = []] = paintedRectangles(await labelSheet(labels.slice(0, 1), date, grid));
  const pxPerMm = 6;
  const [code] = await readCodes(paint(page, pxPerMm), () => true);
  const [left = 0, top = 0] = code?.corners[0].map((px) => px / pxPerMm) ?? [];
  const right = (code?.corners[2][0] ?? 0) / pxPerMm;
  expect(right - left).toBeGreaterThan(20);
  // The fourth label: second column, second row.
  expect(left).toBeGreaterThan(grid.leftMm + grid.pitchXMm + 1);
  expect(top).toBeGreaterThan(grid.topMm + grid.pitchYMm - 1);
  expect(right).toBeLessThan(grid.leftMm + grid.pitchXMm + 1 + grid.widthMm);
});

test("every sheet has a rule of 100 mm under its labels and says to print at 100 %", async () => {
  const { pages, alts } = await readPdf(await labelSheet(labels, date));
  expect(alts.filter((alt) => alt === "A rule of 100 mm")).toHaveLength(2);
  for (const page of pages) {
    expect(page).toContain("print at 100 %");
    expect(page).toContain("If a tape shows 99 or 101, print again at 100 % (actual size).");
  }
});

test("the leaf, its opening and TOP can be read by eye", async () => {
  const text = (await readPdf(await labelSheet(labels, date))).pages.join(" ");
  for (const words of ["W01", "no opening yet", "opening 1.1", "TOP ▲", "never on the lacquer", "W03R-LONG.12"])
    expect(text).toContain(words);
});
