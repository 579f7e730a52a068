import { describe, expect, test } from "vitest";
import type { ClaimWindow } from "../../../server/contract/views.ts";
import { windowKindsOf, windowsConcerned } from "../../../server/records/windows-concerned.ts";

const window = (kind: ClaimWindow["kind"], deadline: string): ClaimWindow => ({
  kind,
  to: kind.startsWith("haulier") ? "haulier" : "supplier",
  opensAt: "2026-03-03T10:40:00+00:00",
  deadline,
  hoursLeft: 5,
  shut: false,
  counted: "as agreed",
});

const leaf = (code: string, kind: "dent" | "sand-through", party: "carrier" | "maker" | null) => ({
  code,
  decision: { party },
  marks: [{ kind, party: null }],
});

describe("which windows a leaf runs under", () => {
  test("damage in carriage: those of damage and of the haulier", () => {
    expect(windowKindsOf(leaf("W03", "dent", "carrier"))).toEqual(["damage", "haulier-notice", "haulier-claim"]);
  });
  test("a knock of unknown cause: damage; a fault of making: defect", () => {
    expect(windowKindsOf(leaf("W03", "dent", null))).toEqual(["damage"]);
    expect(windowKindsOf(leaf("W07", "sand-through", "maker"))).toEqual(["defect"]);
    expect(windowKindsOf({ code: "W08", decision: null, marks: [] })).toEqual(["defect"]);
  });
});

test("windows of several leaves are told once, the first to shut first, each with its leaves", () => {
  const windows = [
    window("haulier-notice", "2026-03-10T17:00:00+00:00"),
    window("defect", "2026-03-06T17:00:00+00:00"),
    window("damage", "2026-03-06T16:00:00+00:00"),
  ];
  const leaves = [leaf("W03", "dent", "carrier"), leaf("W07", "sand-through", "maker"), leaf("W08", "dent", null)];
  const found = windowsConcerned(leaves, () => windows);
  expect(found.map(({ kind, leaves: codes }) => [kind, codes])).toEqual([
    ["damage", ["W03", "W08"]],
    ["defect", ["W07"]],
    ["haulier-notice", ["W03"]],
  ]);
});
