import { describe, expect, test } from "vitest";
import { canonicalJson, sha256Of } from "../../../server/records/canonical.ts";
import { recordPdf } from "../../../server/records/record-pdf.ts";
import { wantedPictures } from "../../../server/records/record-pictures.ts";
import type { LeafRecord } from "../../../server/records/record-schema.ts";
import { quayRecord } from "./frozen.ts";
import { quayDelivery } from "./quay-delivery.ts";
import { readPdf } from "./read-pdf.ts";

/** A grey JPEG of one pixel. */
const jpeg = Buffer.from(
  "/9j/4AAQSkZJRgABAQEASABIAAD/2wBDAAMCAgICAgMCAgIDAwMDBAYEBAQEBAgGBgUGCQgKCgkICQkKDA8MCgsOCwkJDRENDg8QEBEQCgwSExIQEw8QEBD/wAALCAABAAEBAREA/8QAFAABAAAAAAAAAAAAAAAAAAAACf/EABQQAQAAAAAAAAAAAAAAAAAAAAD/2gAIAQEAAD8AVN//2Q==",
  "base64",
);

const outline = [
  [100, 100],
  [563, 100],
  [563, 1120],
  [100, 1120],
] as const;

const pictured = (): { record: LeafRecord; copies: Map<string, Buffer> } => {
  const wanted = wantedPictures(quayDelivery(), ["W03", "P1", "P2"], () => outline);
  const copy = { kind: "made" as const, sha256: sha256Of(jpeg), bytes: jpeg.length };
  const record = quayRecord({ pictures: wanted.map((picture) => ({ ...picture, copy })) });
  return { record, copies: new Map(wanted.map(({ name }) => [name, jpeg])) };
};

const printed = (record: LeafRecord, copies = new Map<string, Buffer>()): Promise<Buffer> =>
  recordPdf(record, copies, sha256Of(canonicalJson(record)));

describe("what stands in the record", () => {
  test("everything an honoured claim holds", async () => {
    const { record, copies } = pictured();
    const { pages } = await readPdf(await printed(record, copies));
    const text = pages.join(" ");
    for (const words of [
      "Return record 2",
      "HJ-2217",
      "PL-88413",
      "PLC-WN-926-30",
      "Tue 3 Mar 2026 10:40 by Scarrowdale Freight",
      "Fri 6 Mar 2026 17:00",
      "7.5 h before it shuts",
      "3 working days after the delivery",
      "Asked: L1, walnut flush 926: replacement of 1 leaf: W03.",
      "Recorded as crushed corner by R. Tallis",
      "Uncut and unfitted at the time of issue: W03, P1, P2.",
      "Marks are judged from 1.5 m under this light: daylight from the window",
      "No reading was logged.",
      "without position, serial numbers, owner",
      "The cause, in the opinion of R. Tallis: carriage.",
      "P1 and P2 were ordered as a matched pair and are one unit. Measured apart: face A to face A 6.7 ± 0.5 ΔE00",
    ])
      expect(text).toContain(words);
    expect(text).not.toMatch(/defective/i);
  });

  test("every page says which record, which page of how many, and the hash of the JSON", async () => {
    const record = quayRecord();
    const { pages } = await readPdf(await printed(record));
    for (const [index, page] of pages.entries()) {
      expect(page).toContain(`page ${index + 1} of ${pages.length}`);
      expect(page).toContain(`Record 2, revision 1. SHA-256 of its JSON: ${sha256Of(canonicalJson(record))}`);
    }
  });

  test("every photo stands with its hash", async () => {
    const record = quayRecord();
    const text = (await readPdf(await printed(record))).pages.join(" ");
    for (const { id } of record.photos) {
      expect(text).toContain(id.slice(0, 32));
      expect(text).toContain(id.slice(32));
    }
  });

  test("a late record says so", async () => {
    const [window] = quayRecord().windows;
    const late = quayRecord({ windows: () => (window ? [{ ...window, hoursLeft: -2, shut: true }] : []) });
    const text = (await readPdf(await printed(late))).pages.join(" ");
    expect(text).toContain("This record is late for at least one window");
    expect(text).toContain("2 h after it shut");
    expect((await readPdf(await printed(quayRecord()))).pages.join(" ")).not.toMatch(/\blate\b/i);
  });

  test("an original that was changed is told", async () => {
    const record = quayRecord();
    const photos = record.photos.map((photo) => ({ ...photo, original: "changed" as const }));
    expect((await readPdf(await printed({ ...record, photos }))).pages.join(" ")).toContain("CHANGED");
  });
});

describe("for a reader that speaks", () => {
  test("the tree has headings, tables with heads, and figures with words", async () => {
    const { record, copies } = pictured();
    const { roles, alts, tagged, info } = await readPdf(await printed(record, copies));
    expect(tagged).toBe(true);
    for (const role of ["H1", "H2", "H3", "P", "Table", "TR", "TH", "TD", "Figure", "Caption"])
      expect(roles, role).toContain(role);
    expect(roles.filter((role) => role === "H1")).toHaveLength(1);
    // Two faces drawn and two photographed for each of three leaves, and three pictures of one mark.
    expect(alts).toHaveLength(roles.filter((role) => role === "Figure").length);
    expect(alts).toHaveLength(15);
    expect(alts).toContain("Face A of leaf W03 drawn to scale, 1 marks");
    expect(info).toMatchObject({
      Language: "en-GB",
      Title: "Return record 2: Brannoch Quay Clinic, first-floor refit",
    });
  });
});

describe("bytes", () => {
  test("the same record gives the same bytes at another time", async () => {
    const { record, copies } = pictured();
    const first = sha256Of(await printed(record, copies));
    await new Promise((resolve) => setTimeout(resolve, 1100));
    expect(sha256Of(await printed(record, copies))).toBe(first);
  });

  test("the dates in the file are those of issue", async () => {
    const { info } = await readPdf(await printed(quayRecord()));
    expect(info).toMatchObject({ CreationDate: "D:20260306093000Z", ModDate: "D:20260306093000Z" });
  });
});

describe("texts of any kind", () => {
  const withNote = (note: string): LeafRecord => {
    const delivery = quayDelivery();
    for (const mark of delivery.marks) mark.note = note;
    for (const leaf of delivery.leaves) if (leaf.decision) leaf.decision.reason = note.slice(0, 20_000);
    return quayRecord({ delivery });
  };

  test("a note of 20,000 letters runs over pages, to its last word", async () => {
    const note = `${"the corner was crushed when it came off the lorry ".repeat(399)}and that is all`;
    const short = (await readPdf(await printed(quayRecord()))).pages.length;
    const { pages } = await readPdf(await printed(withNote(note)));
    expect(pages.length).toBeGreaterThan(short + 5);
    expect(pages.join(" ").match(/and that is all/g)?.length).toBeGreaterThanOrEqual(2);
  });

  test.each([
    ["one word of 20,000 letters", "x".repeat(20_000)],
    ["10,000 marks on one letter", `a${"\u0301".repeat(10_000)}`],
    ["signs of other scripts", "דלת 🚪👩🏽‍🔧 باب ド ア \u202edrawkcab\u202c \u200b\u200d ﷽".repeat(50)],
    ["line breaks only", "\n".repeat(2_000)],
    ["half a surrogate pair", "\ud800 and \udfff"],
  ])("%s: a PDF is made", async (_, note) => {
    const record = withNote(note);
    const pdf = await printed(record);
    expect((await readPdf(pdf)).pages.join(" ")).toContain("What this record can show");
  });
});
