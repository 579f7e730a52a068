import type { Body } from "../contract/calls.ts";
import type { SupplierTerms } from "../contract/terms.ts";

/** The demo delivery. All names and figures are invented. */
export const demoId = "brannochquay";

/** Friday, the last day of the supplier's window for damage: the demo is looked at from here on. */
export const demoStartsAt = "2026-03-06T09:00:00+00:00";

export const joiner = { name: "R. Tallis", device: "site phone" };
export const office = { name: "M. Orrin", device: "office laptop" };

export const demoJob: Body<"createDelivery">["job"] = {
  name: "Brannoch Quay Clinic",
  site: "Brannoch Quay Clinic, first-floor refit",
  fitter: "Harrowmere Joinery",
  supplier: "Pellingford Leaf Co.",
  haulier: "Scarrowdale Freight",
  orderNumber: "HJ-2217",
  noteNumber: "PL-88413",
  deliveredAt: "2026-03-03T10:40:00+00:00",
  timeZone: "Europe/London",
  currency: "GBP",
};

export const demoTerms: SupplierTerms = {
  windows: [
    { kind: "shortage", to: "supplier", amount: 24, unit: "hours", from: "delivery" },
    { kind: "damage", to: "supplier", amount: 3, unit: "working-days", from: "delivery" },
    { kind: "defect", to: "supplier", amount: 3, unit: "working-days", from: "delivery" },
    { kind: "haulier-notice", to: "haulier", amount: 7, unit: "calendar-days", from: "delivery" },
    { kind: "haulier-claim", to: "haulier", amount: 14, unit: "calendar-days", from: "delivery" },
  ],
  holidays: "GB-ENG",
  closedDays: [],
  dayEndsAt: "17:00",
  store: {
    humidityMinPercent: 40,
    humidityMaxPercent: 60,
    temperatureMinC: 10,
    temperatureMaxC: 32,
    swingPercentPerDay: 10,
    longestGapHours: 24,
  },
  shape: { bowMm: 6, twistMm: 6, cupMm: 6, uncertaintyMm: 0.5 },
  marks: [
    { kind: "dent", longestMm: 5, deepestMm: 0.2, contrastDE00: null },
    { kind: "scratch", longestMm: 25, deepestMm: null, contrastDE00: null },
    { kind: "crushed-corner", longestMm: 5, deepestMm: 1, contrastDE00: null },
    { kind: "edge-chip", longestMm: 5, deepestMm: 1, contrastDE00: null },
    { kind: "sand-through", longestMm: 10, deepestMm: null, contrastDE00: 2 },
    { kind: "stain", longestMm: 10, deepestMm: null, contrastDE00: 2 },
  ],
  toleranceDE00: 2,
  confidence: 0.95,
  viewing: { distanceM: 1.5, light: "daylight from the window and the room's own lamps, no lamp aimed at the leaf" },
  beforeUnwrapping: "Photograph the wrapping first: without it Pellingford takes no claim for damage in carriage.",
};

/** What was counted at the lorry, by line. */
export const counted: Readonly<Record<string, number>> = { L1: 8, L2: 2, L3: 4, L4: 2, L5: 4 };

/** Lines ordered as matched pairs. */
export const pairLines: readonly string[] = ["L2"];

/** Leaves that are not what was ordered. */
export const identities: Readonly<Record<string, "wrong" | "over">> = { A04: "wrong", S04: "over" };

type Reading = Body<"logReading">["reading"];

const reading = (at: string, temperatureC: number, humidityPercent: number, event: string): Reading => ({
  at: `2026-03-${at}:00+00:00`,
  temperatureC,
  humidityPercent,
  place: "in the stack, room 1.12",
  instrument: "HX-2, checked 2 Mar",
  event,
});

export const storeReadings: readonly Reading[] = [
  reading("03T11:30", 18.4, 52, "stacked on three bearers"),
  reading("04T08:00", 17.9, 55, "screed poured in the next room in the afternoon"),
  reading("05T07:45", 16.2, 68, "over the band; window opened"),
  reading("05T16:00", 19.5, 57, ""),
  reading("06T08:10", 24.8, 34, "heater and dehumidifier left on overnight by others"),
];

type Mark = Omit<Body<"logMark">["mark"], "photo"> & {
  readonly leaf: string;
  readonly at: string;
  readonly photo: string;
};

export const marks: readonly Mark[] = [
  {
    leaf: "W03",
    at: "2026-03-03T11:43:00+00:00",
    photo: "w03-a-corner.jpg",
    face: "A",
    kind: "crushed-corner",
    box: { x: 888, y: 2018, w: 38, h: 22 },
    depthMm: 9,
    seenFromM: 3,
    party: "carrier",
    note: "Wrapping torn at the same corner; written on the delivery note at the lorry.",
    foundBy: "person",
  },
  {
    leaf: "W05",
    at: "2026-03-03T11:56:00+00:00",
    photo: "w05-a-dent.jpg",
    face: "A",
    kind: "dent",
    box: { x: 801, y: 1008, w: 14, h: 9 },
    depthMm: 0.4,
    seenFromM: 1,
    party: "carrier",
    note: "Finish unbroken. Carriage or handling.",
    foundBy: "person",
  },
  {
    leaf: "W07",
    at: "2026-03-03T12:14:00+00:00",
    photo: "w07-b-sand-through.jpg",
    face: "B",
    kind: "sand-through",
    box: { x: 452, y: 520, w: 15, h: 60 },
    depthMm: null,
    seenFromM: 3,
    party: "maker",
    note: "Pale patch without grain.",
    foundBy: "person",
  },
  {
    leaf: "A06",
    at: "2026-03-03T15:38:00+00:00",
    photo: "a06-b-streak.jpg",
    face: "B",
    kind: "natural",
    box: { x: 398, y: 842, w: 3, h: 90 },
    depthMm: null,
    seenFromM: 2,
    party: "natural",
    note: "Mineral streak.",
    foundBy: "person",
  },
  {
    leaf: "S02",
    at: "2026-03-06T08:35:00+00:00",
    photo: "s02-a-joint-opened.jpg",
    face: "A",
    kind: "open-mitre",
    box: { x: 732.6, y: 951, w: 0.8, h: 190 },
    depthMm: null,
    seenFromM: 1,
    party: "store",
    note: "Lock rail to closing stile: 0.2 mm open on the photo of 3 March, 0.8 mm on 6 March, after the forced drying.",
    foundBy: "person",
  },
];

type Shape = Body<"logShape">["reading"] & { readonly leaf: string };

export const shapes: readonly Shape[] = [
  {
    leaf: "A02",
    at: "2026-03-03T16:10:00+00:00",
    kind: "bow",
    mm: 4.5,
    how: "string line 20 mm in from the long edge",
  },
  { leaf: "A02", at: "2026-03-06T08:20:00+00:00", kind: "bow", mm: 7, how: "string line 20 mm in from the long edge" },
];

type Decision = NonNullable<Body<"decideLeaf">["decision"]> & { readonly leaf: string; readonly at: string };

const onTheDay = "2026-03-03T16:30:00+00:00";
const accept = (leaf: string, reason = ""): Decision => ({
  leaf,
  at: onTheDay,
  outcome: "accept",
  reason,
  allowance: null,
  party: null,
  asks: null,
});

/** What was decided, pairs once. */
export const decisions: readonly Decision[] = [
  ...["W01", "W02", "W04", "W06", "W08", "A01", "A03", "A05", "S01", "S03"].map((leaf) => accept(leaf)),
  accept("A06", "Mineral streak is a natural feature; to the store side."),
  {
    leaf: "W05",
    at: onTheDay,
    outcome: "accept-with-allowance",
    reason: "Dent on face A, not seen from beyond 1 m; face A goes to the room side.",
    allowance: 45,
    party: "carrier",
    asks: "credit",
  },
  {
    leaf: "W03",
    at: onTheDay,
    outcome: "return",
    reason: "Crushed corner, wrapping torn at the same spot, noted at the lorry.",
    allowance: null,
    party: "carrier",
    asks: "replace",
  },
  {
    leaf: "W07",
    at: onTheDay,
    outcome: "return",
    reason: "Sand-through on face B, seen from 3 m.",
    allowance: null,
    party: "maker",
    asks: "replace",
  },
  {
    leaf: "P1",
    at: onTheDay,
    outcome: "return",
    reason: "Ordered as a matched pair; the two leaves differ plainly in colour. Returned as one unit.",
    allowance: null,
    party: "maker",
    asks: "replace",
  },
  {
    leaf: "A04",
    at: onTheDay,
    outcome: "return",
    reason: "726 mm wide, labelled and ordered 826. Uncut.",
    allowance: null,
    party: "order",
    asks: "replace",
  },
  {
    leaf: "A02",
    at: "2026-03-06T08:25:00+00:00",
    outcome: "hold",
    reason: "Bow went from 4.5 to 7.0 mm while the store was dried by force: measure again when the air is steady.",
    allowance: null,
    party: "store",
    asks: null,
  },
  {
    leaf: "S02",
    at: "2026-03-06T08:40:00+00:00",
    outcome: "hold",
    reason: "Joint opened from 0.2 to 0.8 mm after forced drying by others.",
    allowance: null,
    party: "store",
    asks: null,
  },
  {
    leaf: "S04",
    at: "2026-03-03T16:45:00+00:00",
    outcome: "hold",
    reason: "Not ordered, sound. Supplier asked to collect it or to swap.",
    allowance: null,
    party: "order",
    asks: null,
  },
];
