import { expect, test } from "vitest";
import { type AllottedLeaf, allotmentSheet } from "../../../server/records/allotment-sheet.ts";
import { readPdf } from "./read-pdf.ts";

const date = "2026-03-04T10:00:00+00:00";
const allotted: AllottedLeaf = {
  opening: "1.02",
  place: "",
  leaf: "W03",
  sides: [
    { space: "Corridor", face: "B" },
    { space: "Consulting 2", face: "A" },
  ],
  hinge: "left",
  opensTowards: "Consulting 2",
};
const sheet = (leaves: AllottedLeaf[]) =>
  allotmentSheet({ job: "Brannoch Quay Clinic", plannedAt: "Wed 4 Mar 2026 09:00", leaves }, date);

test("says which face looks where and where the hinges are, seen from a named side", async () => {
  const { pages, alts } = await readPdf(await sheet([allotted]));
  expect(pages[0]).toContain("left, seen from Corridor, opens towards Consulting 2");
  expect(pages[0]).toContain("▲ face A to Consulting 2");
  expect(pages[0]).toContain("▼ face B to Corridor");
  expect(pages[0]).toContain("1.02 · W03 · TOP");
  expect(alts).toEqual([
    "Top edge of leaf W03 for opening 1.02, hinges left, seen from Corridor, opens towards Consulting 2",
  ]);
});

test("an unknown hinge side is not guessed, a side that nobody looks at is said", async () => {
  const [near] = allotted.sides;
  const { pages } = await readPdf(
    await sheet([{ ...allotted, hinge: null, sides: [near, { space: null, face: "A" }] }]),
  );
  expect(pages[0]).toContain("not told");
  expect(pages[0]).toContain("no one's view");
  expect(pages[0]).not.toContain("HINGES");
});

test("sixty leaves run over pages, each with a strip", async () => {
  const leaves = Array.from({ length: 60 }, (_, i) => ({ ...allotted, leaf: `W${i + 1}`, opening: `1.${i + 1}` }));
  const { pages, alts } = await readPdf(await sheet(leaves));
  expect(pages.length).toBeGreaterThan(5);
  expect(alts).toHaveLength(60);
});
