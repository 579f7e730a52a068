import { describe, expect, test } from "vitest";
import { canonicalJson } from "../../../server/records/canonical.ts";
import { freezeRecord } from "../../../server/records/record.ts";
import { leafRecord } from "../../../server/records/record-schema.ts";
import { quayFacts, quayRecord } from "./frozen.ts";
import { quayDelivery } from "./quay-delivery.ts";

describe("a return record", () => {
  test("tells each line's leaves affected of leaves delivered", () => {
    const { lines } = quayRecord();
    expect(lines.map(({ id, affected, delivered, value }) => [id, affected, delivered, value])).toEqual([
      ["L1", 1, 8, 412],
      ["L2", 2, 2, 798],
    ]);
  });

  test("goes by the note where nobody has counted", () => {
    expect(quayRecord({ leaves: ["S02"] }).lines[0]).toMatchObject({ id: "L5", affected: 1, delivered: 3 });
  });

  test("asks for a pair as one unit", () => {
    expect(quayRecord().asks).toEqual([
      "L1, walnut flush 926: replacement of 1 leaf: W03.",
      "L2, walnut pair: replacement of 1 matched pair (2 leaves, each pair one unit): P1, P2.",
    ]);
    expect(quayRecord().pairs).toMatchObject([{ leaves: ["P1", "P2"], differences: [{ deltaE: 6.7 }] }]);
  });

  test("says what was seen, by whom and when, and never that a leaf is defective", () => {
    const record = quayRecord();
    expect(record.leaves[0]?.marks[0]?.says).toBe(
      "Recorded as crushed corner by R. Tallis on Tue 3 Mar 2026 11:07: face A, bottom hanging corner, 38 x 22 x 9 mm (width x height x depth), 7.4 ΔE00 to the wood round it, seen from up to 3 m.",
    );
    expect(record.leaves[0]?.says).toBe("Recorded as to be returned by R. Tallis on Thu 5 Mar 2026 15:20.");
    expect(canonicalJson(record)).not.toMatch(/defective/i);
  });

  test("names the edition by whose values charts were read, where a photo shows one", () => {
    const says = (chart: string | null) => quayRecord({ chart }).method.filter((one) => one.startsWith("Charts in"));
    expect(says("Office chart, 2025")).toEqual([
      "Charts in the photos were read by the values of the Office chart, 2025.",
    ]);
    expect(says(null)).toEqual([]);
  });

  test("names the opening and what each face would look into; the leaf is turned", () => {
    expect(quayRecord().leaves[0]?.opening).toEqual({
      code: "1.02",
      place: 0,
      faces: [
        { face: "A", space: "Consulting 2", hangingSide: "right" },
        { face: "B", space: "Corridor", hangingSide: "left" },
      ],
    });
  });

  test("leaves out marks that were withdrawn", () => {
    expect(quayRecord().leaves[0]?.marks.map(({ kind }) => kind)).toEqual(["crushed-corner"]);
  });

  test("states whether a leaf is uncut from what the ledger knows", () => {
    const delivery = quayDelivery();
    for (const leaf of delivery.leaves) if (leaf.code === "W03") leaf.cut = true;
    const [w03, p1] = quayRecord({ delivery }).leaves;
    expect(w03?.condition).toMatch(/has been cut/);
    expect(p1?.condition).toMatch(/uncut and unfitted/);
  });

  test("is due when the first window towards the supplier shuts, and is late only after it", () => {
    expect(quayRecord()).toMatchObject({ deadline: "2026-03-06T17:00:00+00:00", late: false });
    const shut = quayFacts()
      .windows("W03")
      .map((window) => ({ ...window, shut: window.to === "supplier" }));
    expect(quayRecord({ windows: () => shut }).late).toBe(true);
    const haulierOnly = shut.map((window) => ({ ...window, shut: window.to === "haulier" }));
    expect(quayRecord({ windows: () => haulierOnly }).late).toBe(false);
  });

  test("the haulier's windows run for the leaf hurt on the way alone", () => {
    const windows = quayRecord().windows.map(({ kind, leaves }) => [kind, leaves]);
    expect(windows).toContainEqual(["haulier-notice", ["W03"]]);
    expect(windows).toContainEqual(["defect", ["P1", "P2"]]);
  });
});

describe("an acceptance record", () => {
  test("has no deadline and asks for nothing", () => {
    const record = quayRecord({ kind: "accept", leaves: ["W02", "W05"] });
    expect(record).toMatchObject({ deadline: null, late: false, windows: [], asks: [] });
    expect(record.leaves[1]?.says).toMatch(/^Recorded as accepted with an allowance of 45.00 GBP by/);
  });
});

describe("frozen", () => {
  test("later changes of the delivery do not reach it", () => {
    const delivery = quayDelivery();
    const record = quayRecord({ delivery });
    const before = canonicalJson(record);
    delivery.job.supplier = "another";
    for (const mark of delivery.marks) mark.note = "changed later";
    for (const leaf of delivery.leaves) leaf.decision = null;
    expect(canonicalJson(record)).toBe(before);
  });

  test("the same facts give the same canonical JSON, which its schema reads back", () => {
    const text = canonicalJson(quayRecord());
    expect(canonicalJson(quayRecord())).toBe(text);
    expect(canonicalJson(leafRecord.parse(JSON.parse(text)))).toBe(text);
  });

  test("half of a surrogate pair in a note does not stop it", () => {
    const delivery = quayDelivery();
    for (const mark of delivery.marks) mark.note = "torn \ud83d here";
    expect(canonicalJson(quayRecord({ delivery }))).toContain("torn \ufffd here");
  });

  test("a field nobody knows is refused", () => {
    expect(() => leafRecord.parse({ ...quayRecord(), extra: 1 })).toThrow();
  });

  test("a leaf the delivery does not hold is a fault", () => {
    expect(() => freezeRecord(quayFacts({ leaves: ["X99"] }))).toThrow(/X99/);
  });
});
