import { createHash } from "node:crypto";
import type { Delivery } from "../../../server/contract/delivery.ts";
import type { Leaf, Mark, Pattern } from "../../../server/contract/leaf.ts";
import type { Photo } from "../../../server/contract/photo.ts";
import { someTerms } from "../../support/small-delivery.ts";

/** A part of an invented delivery: three lines, a pair, marks, readings, two photos a leaf. All names are invented. */

export const hashOf = (text: string): string => createHash("sha256").update(text).digest("hex");

/** An id in the alphabet of ULIDs, the same for the same number. */
const idOf = (number: number): string => `01J0000000000000000000${String(number).padStart(4, "0")}`;

const flush = (id: string, widthMm: number): Pattern => ({
  id,
  name: `flush ${widthMm}`,
  widthMm,
  heightMm: 2040,
  parts: [{ name: "face", kind: "face", grain: "v", rectMm: [0, 0, widthMm, 2040] }],
});

export const fourPanel: Pattern = {
  id: "P4",
  name: "four panel",
  widthMm: 838,
  heightMm: 1981,
  parts: [
    { name: "left-stile", kind: "stile", grain: "v", rectMm: [0, 0, 105, 1981] },
    { name: "right-stile", kind: "stile", grain: "v", rectMm: [733, 0, 105, 1981] },
    { name: "top-rail", kind: "rail", grain: "h", rectMm: [105, 0, 628, 105] },
    { name: "lock-rail", kind: "rail", grain: "h", rectMm: [105, 950, 628, 190] },
    { name: "bottom-rail", kind: "rail", grain: "h", rectMm: [105, 1776, 628, 205] },
    { name: "top-muntin", kind: "muntin", grain: "v", rectMm: [367, 105, 105, 845] },
    { name: "bottom-muntin", kind: "muntin", grain: "v", rectMm: [367, 1140, 105, 636] },
    { name: "top-left-panel", kind: "panel", grain: "v", rectMm: [105, 105, 262, 845] },
    { name: "top-right-panel", kind: "panel", grain: "v", rectMm: [472, 105, 261, 845] },
    { name: "bottom-left-panel", kind: "panel", grain: "v", rectMm: [105, 1140, 262, 636] },
    { name: "bottom-right-panel", kind: "panel", grain: "v", rectMm: [472, 1140, 261, 636] },
  ],
};

const leaf = (code: string, line: string, pattern: string, more: Partial<Leaf> = {}): Leaf => ({
  code,
  line,
  pattern,
  thicknessMm: 44,
  batch: "PL-0226-B",
  identity: "as-ordered",
  pairWith: null,
  replaces: null,
  massKg: null,
  unwrappedAt: "2026-03-03T11:02:00+00:00",
  cut: false,
  shape: [],
  decision: null,
  ...more,
});

const returned = (reason: string, party: "maker" | "carrier"): Leaf["decision"] => ({
  outcome: "return",
  reason,
  allowance: null,
  party,
  asks: "replace",
  by: "R. Tallis",
  at: "2026-03-05T15:20:00+00:00",
});

const accepted = (allowance: number | null): Leaf["decision"] => ({
  outcome: allowance === null ? "accept" : "accept-with-allowance",
  reason: allowance === null ? "sound" : "dent not seen beyond 1 m, room side",
  allowance,
  party: null,
  asks: null,
  by: "R. Tallis",
  at: "2026-03-05T15:30:00+00:00",
});

const mark = (number: number, leafCode: string, more: Partial<Mark> & Pick<Mark, "kind" | "box">): Mark => ({
  id: idOf(number),
  leaf: leafCode,
  face: "A",
  depthMm: null,
  contrastDE00: null,
  seenFromM: null,
  photo: null,
  party: null,
  note: "",
  foundBy: "person",
  by: "R. Tallis",
  at: "2026-03-03T11:07:00+00:00",
  withdrawn: false,
  ...more,
});

const photo = (leafCode: string, face: "A" | "B", number: number): Photo => ({
  id: hashOf(`${leafCode}${face}`),
  name: `IMG_${2000 + number}.jpg`,
  kind: "single",
  shows: [{ leaf: leafCode, face, corners: null }],
  note: "",
  takenAt: "2026-03-03T11:05:00+00:00",
  receivedAt: "2026-03-03T11:06:00+00:00",
  bytes: 2_400_000 + number,
  width: 1536,
  height: 2048,
  camera: "Sitecam P1",
  flags: [],
});

/** A new copy of the delivery each time, so that a test may change its own. */
export const quayDelivery = (): Delivery => ({
  version: 2,
  id: "quay",
  job: {
    name: "Brannoch Quay Clinic, first-floor refit",
    site: "Brannoch Quay",
    fitter: "Harrowmere Joinery",
    supplier: "Pellingford Leaf Co.",
    haulier: "Scarrowdale Freight",
    orderNumber: "HJ-2217",
    noteNumber: "PL-88413",
    deliveredAt: "2026-03-03T10:40:00+00:00",
    timeZone: "Europe/London",
    currency: "GBP",
  },
  terms: {
    ...someTerms,
    windows: [
      { kind: "damage", to: "supplier", amount: 3, unit: "working-days", from: "delivery" },
      { kind: "defect", to: "supplier", amount: 3, unit: "working-days", from: "delivery" },
      { kind: "haulier-notice", to: "haulier", amount: 7, unit: "calendar-days", from: "delivery" },
      { kind: "haulier-claim", to: "haulier", amount: 14, unit: "calendar-days", from: "delivery" },
    ],
    shape: { bowMm: 6, twistMm: 6, cupMm: 2, uncertaintyMm: 0.5 },
    marks: [{ kind: "crushed-corner", longestMm: 5, deepestMm: 1, contrastDE00: null }],
    viewing: { distanceM: 1.5, light: "daylight from the window, room lamps on, no lamp along the face" },
  },
  patterns: [flush("F926", 926), flush("F726", 726), fourPanel],
  lines: [
    {
      id: "L1",
      item: "walnut flush 926",
      productCode: "PLC-WN-926-30",
      price: 412,
      ordered: 8,
      onNote: 8,
      counted: 8,
      pattern: "F926",
      thicknessMm: 44,
      veneer: "walnut, crown cut",
      fireRating: "FD30S",
      leavesPerUnit: 1,
    },
    {
      id: "L2",
      item: "walnut pair",
      productCode: "PLC-WN-726-P",
      price: 399,
      ordered: 2,
      onNote: 2,
      counted: 2,
      pattern: "F726",
      thicknessMm: 44,
      veneer: "walnut, crown cut",
      fireRating: "FD30",
      leavesPerUnit: 2,
    },
    {
      id: "L5",
      item: "sapele four panel",
      productCode: "PLC-SA-838",
      price: 364,
      ordered: 3,
      onNote: 3,
      counted: null,
      pattern: "P4",
      thicknessMm: 44,
      veneer: "sapele",
      fireRating: null,
      leavesPerUnit: 1,
    },
  ],
  spaces: [
    { id: "C1", name: "Corridor", kind: "corridor" },
    { id: "R2", name: "Consulting 2", kind: "room" },
  ],
  openings: [
    {
      id: "1.02",
      lines: ["L1"],
      leaves: 1,
      sides: ["C1", "R2"],
      fireRating: "FD30S",
      hinge: { side: "left", seenFrom: 0, opensTowards: 1 },
      existingLeaf: null,
      note: "",
    },
    {
      id: "1.10",
      lines: ["L2"],
      leaves: 2,
      sides: ["C1", null],
      fireRating: "FD30",
      hinge: null,
      existingLeaf: null,
      note: "",
    },
  ],
  leaves: [
    leaf("W02", "L1", "F926", { decision: accepted(null) }),
    leaf("W03", "L1", "F926", { decision: returned("corner crushed, wrapping torn at the same place", "carrier") }),
    leaf("W05", "L1", "F926", { decision: accepted(45) }),
    leaf("P1", "L2", "F726", { pairWith: "P2", decision: returned("pair does not match", "maker") }),
    leaf("P2", "L2", "F726", { pairWith: "P1", decision: returned("pair does not match", "maker") }),
    leaf("S02", "L5", "P4", {
      shape: [
        { id: idOf(90), at: "2026-03-03T12:00:00+00:00", kind: "bow", mm: 4.5, how: "string line", by: "R. Tallis" },
      ],
      decision: returned("mitre open at the lock rail", "maker"),
    }),
    leaf("S01", "L5", "P4"),
  ],
  photos: ["W02", "W03", "W05", "P1", "P2", "S02"].flatMap((code, index) => [
    photo(code, "A", 2 * index),
    photo(code, "B", 2 * index + 1),
  ]),
  marks: [
    mark(1, "W03", {
      kind: "crushed-corner",
      box: { x: 888, y: 2018, w: 38, h: 22 },
      depthMm: 9,
      contrastDE00: 7.4,
      seenFromM: 3,
      photo: hashOf("W03A"),
      party: "carrier",
      note: "Wrapping torn at the same corner when it came off the lorry.",
    }),
    mark(2, "W05", { kind: "dent", box: { x: 700, y: 1000, w: 14, h: 9 }, depthMm: 0.4, seenFromM: 1 }),
    mark(3, "S02", { kind: "open-mitre", box: { x: 700, y: 1040, w: 60, h: 8 }, party: "maker", foundBy: "photo" }),
    mark(4, "W03", { kind: "scratch", box: { x: 100, y: 100, w: 60, h: 4 }, withdrawn: true }),
  ],
  readings: [],
  allotment: {
    locks: [],
    bans: [],
    plan: [
      { opening: "1.02", place: 0, leaf: "W03", turned: true },
      { opening: "1.10", place: 0, leaf: "P1", turned: false },
      { opening: "1.10", place: 1, leaf: "P2", turned: false },
    ],
    plannedAt: "2026-03-04T09:00:00+00:00",
    figures: null,
  },
  records: [],
  conflicts: [],
});
