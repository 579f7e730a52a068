import type { Delivery, Opening, OrderLine } from "../../../server/contract/delivery.ts";
import type { Leaf, Pattern } from "../../../server/contract/leaf.ts";
import type { SupplierTerms } from "../../../server/contract/terms.ts";
import type {
  ClaimWindow,
  FaceDifference,
  LeafSummary,
  LeafView,
  LineBalance,
  MatchView,
  Overview,
  ReturnsView,
  SpaceStrip,
} from "../../../server/contract/views.ts";
import { someTerms } from "../../support/small-delivery.ts";

/** An invented delivery for the screens: Brannoch Quay Clinic. Colours and differences are made up, not measured here. */

const hash = (digit: string) => digit.repeat(64);
const zone = "Europe/London";

const flush = (id: string, widthMm: number): Pattern => ({
  id,
  name: "flush",
  widthMm,
  heightMm: 2040,
  parts: [{ name: "face", kind: "face", grain: "v", rectMm: [0, 0, widthMm, 2040] }],
});

const fourPanel: Pattern = {
  id: "S-838",
  name: "four panels",
  widthMm: 838,
  heightMm: 1981,
  parts: [
    { name: "left-stile", kind: "stile", grain: "v", rectMm: [0, 0, 105, 1981] },
    { name: "right-stile", kind: "stile", grain: "v", rectMm: [733, 0, 105, 1981] },
    { name: "top-rail", kind: "rail", grain: "h", rectMm: [105, 0, 628, 105] },
    { name: "lock-rail", kind: "rail", grain: "h", rectMm: [105, 930, 628, 190] },
    { name: "bottom-rail", kind: "rail", grain: "h", rectMm: [105, 1771, 628, 210] },
    { name: "upper-muntin", kind: "muntin", grain: "v", rectMm: [366, 105, 105, 825] },
    { name: "lower-muntin", kind: "muntin", grain: "v", rectMm: [366, 1120, 105, 651] },
    { name: "upper-left-panel", kind: "panel", grain: "v", rectMm: [105, 105, 261, 825] },
    { name: "upper-right-panel", kind: "panel", grain: "v", rectMm: [471, 105, 262, 825] },
    { name: "lower-left-panel", kind: "panel", grain: "v", rectMm: [105, 1120, 261, 651] },
    { name: "lower-right-panel", kind: "panel", grain: "v", rectMm: [471, 1120, 262, 651] },
  ],
};

const patterns = [flush("W-926", 926), flush("W-726", 726), flush("A-826", 826), flush("A-626", 626), fourPanel];

const line = (
  id: string,
  item: string,
  price: number,
  ordered: number,
  counted: number,
  pattern: string,
): OrderLine => ({
  id,
  item,
  productCode: `PL-${id}`,
  price,
  ordered,
  onNote: ordered,
  counted,
  pattern,
  thicknessMm: 44,
  veneer: item.split(" ")[0] ?? "",
  fireRating: id === "L1" ? "FD30S" : null,
  leavesPerUnit: id === "L2" ? 2 : 1,
});

const orderLines = [
  line("L1", "walnut 926", 412, 8, 8, "W-926"),
  line("L2", "walnut pair, leaf 726", 399, 2, 2, "W-726"),
  line("L3", "ash 826", 286, 4, 4, "A-826"),
  line("L4", "ash 626", 248, 3, 2, "A-626"),
  line("L5", "sapele four panels", 364, 3, 4, "S-838"),
];

const balance = (
  id: string,
  [accepted, allowance, held, returned, wrong, short, over]: readonly [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ],
  noteSentence: string | null = null,
): LineBalance => {
  const { item, price, ordered, onNote, counted } =
    orderLines.find((one) => one.id === id) ?? line(id, "", 0, 0, 0, "");
  const figures = { accepted, allowance, held, returned, wrong, short, over };
  return { line: id, item, price, ordered, onNote, counted, ...figures, undecided: 0, balanced: true, noteSentence };
};

const lines: LineBalance[] = [
  balance("L1", [5, 1, 0, 2, 0, 0, 0]),
  balance("L2", [0, 0, 0, 2, 0, 0, 0]),
  balance("L3", [2, 0, 1, 0, 1, 0, 0]),
  balance("L4", [2, 0, 0, 0, 0, 1, 0], "1 of 3 ash 626 not delivered (line L4)."),
  balance("L5", [2, 0, 0, 0, 0, 0, 1], "1 sapele four panels more than on the note (line L5)."),
];

const terms: SupplierTerms = {
  ...someTerms,
  windows: [
    { kind: "shortage", to: "supplier", amount: 24, unit: "hours", from: "delivery" },
    { kind: "defect", to: "supplier", amount: 3, unit: "working-days", from: "delivery" },
  ],
  shape: { bowMm: 6, twistMm: 6, cupMm: 6, uncertaintyMm: 0.5 },
  marks: [{ kind: "dent", longestMm: 10, deepestMm: 0.3, contrastDE00: null }],
  viewing: { distanceM: 1.5, light: "daylight from a window" },
  beforeUnwrapping: "Photograph the wrapping of every leaf before it is opened.",
};

const job: Delivery["job"] = {
  name: "Brannoch Quay Clinic, first floor",
  site: "Brannoch Quay",
  fitter: "Harrowmere Joinery",
  supplier: "Pellingford Leaf Co.",
  haulier: "Scarrowdale Freight",
  orderNumber: "HJ-2217",
  noteNumber: "PL-88413",
  deliveredAt: "2026-03-03T10:40:00+00:00",
  timeZone: zone,
  currency: "GBP",
};

const windows: ClaimWindow[] = [
  {
    kind: "shortage",
    to: "supplier",
    opensAt: job.deliveredAt,
    deadline: "2026-03-04T10:40:00+00:00",
    hoursLeft: -3,
    shut: true,
    counted: "24 hours from delivery.",
  },
  {
    kind: "damage",
    to: "supplier",
    opensAt: job.deliveredAt,
    deadline: "2026-03-05T10:40:00+00:00",
    hoursLeft: 20.5,
    shut: false,
    counted: "48 hours from delivery.",
  },
  {
    kind: "defect",
    to: "supplier",
    opensAt: job.deliveredAt,
    deadline: "2026-03-06T17:00:00+00:00",
    hoursLeft: 51,
    shut: false,
    counted: "3 working days from delivery.",
  },
  {
    kind: "haulier-claim",
    to: "haulier",
    opensAt: job.deliveredAt,
    deadline: "2026-03-17T17:00:00+00:00",
    hoursLeft: 315,
    shut: false,
    counted: "14 calendar days from delivery.",
  },
];

type Lab = [number, number, number];
const colours: Readonly<Record<string, readonly [a: Lab, b: Lab, swatchA: string, swatchB: string]>> = {
  W01: [[43.2, 8.4, 17.6], [43.9, 8.5, 17.9], "#77604c", "#796249"],
  W02: [[44.0, 8.6, 18.1], [46.8, 8.9, 19.2], "#796249", "#81694e"],
  W03: [[44.5, 8.6, 18.2], [44.9, 8.7, 18.3], "#7a634a", "#7b644b"],
  W04: [[45.1, 8.9, 18.8], [44.3, 8.6, 18.0], "#7d644b", "#7a634b"],
  W05: [[43.6, 8.5, 17.9], [44.6, 8.7, 18.4], "#786149", "#7b634a"],
  W06: [[47.4, 9.3, 20.1], [44.7, 8.8, 18.6], "#846a4e", "#7b634a"],
  W07: [[40.1, 7.6, 14.6], [41.0, 7.7, 15.0], "#6d5a49", "#6f5c4a"],
  W08: [[45.6, 9.0, 19.0], [48.2, 9.4, 20.6], "#7e654b", "#866c4e"],
  S01: [[49.6, 16.2, 21.8], [49.9, 16.0, 21.7], "#92694f", "#936a50"],
  S03: [[48.9, 15.9, 21.2], [49.2, 15.8, 21.1], "#906750", "#906850"],
  X33: [[45.1, 17.8, 23.9], [45.5, 17.6, 23.8], "#895b41", "#895c42"],
};

const patternOf = (leaf: string) =>
  patterns.find(({ id }) => id === ({ W: "W-926", P: "W-726", S: "S-838", X: "S-838" }[leaf[0] ?? ""] ?? "A-826")) ??
  fourPanel;

const partsOf = (leaf: string, face: "A" | "B"): LeafView["faces"][number]["parts"] => {
  const colour = colours[leaf];
  if (!colour) return [];
  const [a, b, swatchA, swatchB] = colour;
  return patternOf(leaf).parts.map((part, index) => ({
    part: part.name,
    kind: part.kind,
    lab: (face === "A" ? a : b).map((value, axis) => (axis === 0 ? value + (index % 3) * 0.3 : value)) as Lab,
    u95: 0.6,
    swatch: face === "A" ? swatchA : swatchB,
  }));
};

const leafCodes = "W01 W02 W03 W04 W05 W06 W07 W08 P1 P2 A01 A02 A03 A04 A05 A06 S01 S02 S03 S04".split(" ");
const outcomes: Readonly<Record<string, LeafSummary["outcome"]>> = {
  W03: "return",
  W05: "accept-with-allowance",
  W07: "return",
  P1: "return",
  P2: "return",
  A02: "hold",
  S02: "undecided",
  S04: "hold",
};

const summary = (code: string, index: number): LeafSummary => ({
  code,
  line: orderLines[index < 8 ? 0 : index < 10 ? 1 : index < 14 ? 2 : index < 16 ? 3 : 4]?.id ?? null,
  item: orderLines[index < 8 ? 0 : index < 10 ? 1 : index < 14 ? 2 : index < 16 ? 3 : 4]?.item ?? "",
  identity: code === "A04" ? "wrong" : code === "S04" ? "over" : "as-ordered",
  unwrapped: code !== "S04",
  faces: {
    A: code === "S04" ? "missing" : "measured",
    B: code === "S02" ? "retake" : code === "S04" ? "missing" : "measured",
  },
  marks: ["W03", "W05", "W07", "A06", "S02"].includes(code) ? 1 : 0,
  outcome: outcomes[code] ?? (code === "A04" ? "undecided" : "accept"),
  opening: code === "W01" ? "1.01" : null,
});

const leaves = leafCodes.map(summary);

export const overview: Overview = {
  conflicts: [],
  seq: 1,
  id: "brannoch",
  job,
  terms,
  lines,
  orderLines,
  money: { total: 7074, pay: 4223, allowance: 45, held: 650, withheld: 2156, undecided: 0 },
  windows,
  store: {
    readings: (
      [
        ["2026-03-03T11:30:00+00:00", 18.4, 52, 9.6, "stacked on 3 bearers"],
        ["2026-03-04T08:00:00+00:00", 17.9, 55, 10.2, "screed poured next room in the afternoon"],
        ["2026-03-05T07:45:00+00:00", 16.2, 68, 12.8, "over the band"],
        ["2026-03-05T16:00:00+00:00", 19.5, 57, 10.5, "window opened"],
        ["2026-03-06T08:10:00+00:00", 24.8, 34, 6.7, "heater left on by others"],
        ["2026-03-09T08:00:00+00:00", 20.6, 41, 7.9, "heater off since Friday noon"],
      ] as const
    ).map(([at, temperatureC, humidityPercent, moisturePercent, event], index) => ({
      id: `01HQ${String(index).padStart(22, "0")}`,
      at,
      temperatureC,
      humidityPercent,
      moisturePercent,
      event,
      place: "in the stack",
      instrument: "hygrometer 2",
      by: "Jo",
      outside: humidityPercent < 40 || humidityPercent > 60,
    })),
    hoursOutside: 54,
    warnings: [
      "Humidity rose by 13 points in a day (Wed 4 to Thu 5 March).",
      "No reading for 72 hours from Fri 6 March.",
    ],
  },
  leaves,
  readyToHang: [
    ["1.01", "W01"],
    ["1.02", "W02"],
    ["1.03", "W05"],
    ["1.04", "W06"],
  ].map(([opening = "", leaf = ""]) => ({ opening, leaf })),
  progress: { waiting: 0, measured: 44, retake: 1, kept: 6, failed: 0, solvedAt: "2026-03-03T15:00:00+00:00" },
  head: { seq: 88, sha256: hash("a") },
};

const leafOf = (code: string): Leaf => ({
  code,
  line: leaves.find((one) => one.code === code)?.line ?? null,
  pattern: patternOf(code).id,
  thicknessMm: 44,
  batch: "B7",
  identity: "as-ordered",
  pairWith: null,
  replaces: null,
  massKg: null,
  unwrappedAt: code === "S04" ? null : "2026-03-03T11:07:00+00:00",
  cut: false,
  shape: [],
  decision: null,
});

const mark: LeafView["marks"][number]["mark"] = {
  id: "01HQZZZZZZZZZZZZZZZZZZZZZZ",
  leaf: "W05",
  face: "A",
  kind: "dent",
  box: { x: 860, y: 980, w: 14, h: 9 },
  depthMm: 0.4,
  contrastDE00: 2.1,
  seenFromM: 1,
  photo: null,
  party: "carrier",
  note: "",
  foundBy: "person",
  by: "Jo",
  at: "2026-03-03T11:07:00+00:00",
  withdrawn: false,
};

export const leafView = (code: string): LeafView => ({
  conflicts: [],
  seq: 1,
  leaf: leafOf(code),
  item: leaves.find((one) => one.code === code)?.item ?? "",
  line: orderLines.find(({ id }) => id === leafOf(code).line) ?? null,
  pattern: patternOf(code),
  placed: { opening: "1.03", place: 0, leaf: code, turned: true },
  photos: (["A", "B"] as const).map((face) => ({
    photo: {
      id: hash(face === "A" ? "b" : "c"),
      name: `${code}-${face}.jpg`,
      kind: "single",
      shows: [{ leaf: code, face, corners: null }],
      note: "",
      takenAt: null,
      receivedAt: "2026-03-03T11:09:00+00:00",
      bytes: 900_000,
      width: 1512,
      height: 2016,
      camera: "phone",
      flags: [],
    },
    damage: null,
    state:
      code === "S02" && face === "B"
        ? {
            kind: "retake",
            gates: [
              {
                gate: "cut-off",
                value: -20,
                limit: 0,
                passed: false,
                advice: "Step back until all four corners are in the picture and take it again.",
              },
            ],
          }
        : {
            kind: "measured",
            references: ["the card"],
            open: [],
            faces: [
              {
                leaf: code,
                face,
                corners: [
                  [420, 160],
                  [1120, 175],
                  [1110, 1760],
                  [410, 1740],
                ],
                score: 0.9,
                byHand: false,
              },
            ],
          },
  })),
  faces: (["A", "B"] as const).map((face) => ({
    face,
    parts: partsOf(code, face),
    grain: [
      {
        part: "face",
        kind: "face",
        directionDeg: 0,
        pitchMm: 7,
        contrastL: 2,
        spreadDeg: 8,
        u95: { directionDeg: 1, pitchMm: 0.5, contrastL: 0.2, spreadDeg: 2 },
        figure: "crown",
      },
    ],
    photos: [hash("b")],
  })),
  marks: [{ mark, judgement: { verdict: "beyond-limits", why: "14 mm long, agreed are 10 mm: beyond the limit." } }],
  proposed: [
    {
      face: "A",
      kind: "scratch",
      box: { x: 300, y: 500, w: 120, h: 4 },
      contrastDE00: 3.2,
      score: 0.7,
      photo: hash("b"),
    },
  ],
  windows: windows.slice(2, 3),
  whyNot: {
    accept: "the dent is beyond the agreed limit: accept with allowance, hold or return.",
    "accept-with-allowance": null,
    hold: null,
    return: null,
  },
  missing: code === "S04" ? ["label", "face A", "face B"] : [],
  cautions: [
    "About 44 kg by its size: two people lift it.",
    "Fire leaf: nothing off the top; the maker's sheet decides.",
  ],
  beforeUnwrapping: terms.beforeUnwrapping,
});

const difference = (a: string, b: string, deltaE: number): FaceDifference => ({
  a: { leaf: a.slice(0, -1), face: a.endsWith("A") ? "A" : "B" },
  b: { leaf: b.slice(0, -1), face: b.endsWith("A") ? "A" : "B" },
  part: "face",
  deltaE,
  u95: 0.4,
  verdict: deltaE < 1.6 ? "match" : deltaE > 2.4 ? "differs" : "cannot-tell",
  advice: deltaE < 1.6 || deltaE > 2.4 ? null : "Photograph both side by side in one picture.",
});

const place = (
  openingId: string,
  leaf: string | null,
  face: "A" | "B" | null,
  extra = {},
): SpaceStrip["places"][number] => ({
  opening: openingId,
  place: 0,
  leaf,
  face,
  turned: face === "B",
  locked: false,
  existing: false,
  swatch: null,
  lab: leaf && face ? (partsOf(leaf, face)[0]?.lab ?? null) : null,
  parts: leaf && face ? partsOf(leaf, face) : [],
  ...extra,
});

const opening = (id: string): Opening => ({
  id,
  lines: ["L1"],
  leaves: 1,
  sides: ["CORRIDOR", null],
  fireRating: "FD30S",
  hinge: null,
  existingLeaf: null,
  note: "",
});

export const matchView: MatchView = {
  seq: 1,
  tolerance: 2,
  confidence: 0.95,
  spaces: [
    {
      space: { id: "CORRIDOR", name: "Corridor", kind: "corridor" },
      places: [
        place("1.01", "W01", "B"),
        place("1.02", "W02", "A"),
        place("1.03", "W05", "B", { locked: true }),
        place("1.04", "W06", "B"),
        place("1.05", "W04", "A"),
        place("1.06", "W08", "A"),
      ],
      worst: difference("W01B", "W08A", 1.7),
      differences: [difference("W01B", "W08A", 1.7), difference("W01B", "W02A", 0.3), difference("W05B", "W06B", 0.2)],
      cuts: ["Cut: crown on W01 B, straight on W08 A."],
    },
    {
      space: { id: "STAIR", name: "Stair hall", kind: "hall" },
      places: [
        place("1.30", "S01", "A"),
        place("1.31", null, null),
        place("1.32", "S03", "A"),
        place("1.33", "X33", "A", { existing: true }),
      ],
      worst: difference("S01A", "X33A", 4.6),
      differences: [difference("S01A", "X33A", 4.6), difference("S03A", "X33A", 4.0), difference("S01A", "S03A", 0.7)],
      cuts: [],
    },
  ],
  figures: {
    plan: { worst: 1.7, mean: 0.9, spacesOver: 0 },
    bound: 1.7,
    proven: true,
    dealt: { worst: 4.2, mean: 1.8, spacesOver: 2 },
    byEye: { worst: 2.2, mean: 1.2, spacesOver: 1 },
    forcedBy: null,
  },
  plannedAt: "2026-03-03T16:00:00+00:00",
  before: null,
  sight: { meeting: 1.5, beside: 1, across: 0.7, apart: 0.4 },
  usualSight: { meeting: 1.5, beside: 1, across: 0.7, apart: 0.4 },
  planning: null,
  openings: ["1.01", "1.02"].map(opening),
  patterns,
  leaves: leafCodes.map(leafOf).map(({ code, pattern }) => ({ code, pattern })),
  spare: ["A05"],
  locks: [{ opening: "1.03", place: 0, leaf: "W05", turned: true }],
  bans: [{ leaf: "W08", opening: "1.01", space: null, why: "handle side prepared" }],
  cannotTell: ["A02 face B beside A03 face A: nothing ties the two photos together. Photograph both in one picture."],
};

export const returnsView: ReturnsView = {
  toReturn: leaves.filter(({ outcome }) => outcome === "return"),
  toAccept: leaves.filter(({ outcome }) => outcome === "accept"),
  windows,
  records: [
    {
      number: 1,
      kind: "return",
      revises: null,
      revision: 1,
      leaves: ["W07"],
      issuedAt: "2026-03-06T18:00:00+00:00",
      by: "Jo",
      deadline: "2026-03-06T17:00:00+00:00",
      jsonSha256: hash("d"),
      pdfSha256: hash("e"),
      previousSha256: null,
    },
  ],
};

export const document: Delivery = {
  version: 2,
  id: "brannoch",
  job,
  terms,
  patterns,
  lines: orderLines,
  spaces: matchView.spaces.map(({ space }) => space),
  openings: matchView.openings,
  leaves: [...leafCodes, "X33"].map(leafOf),
  photos: [],
  marks: [mark],
  readings: [],
  allotment: { locks: matchView.locks, bans: matchView.bans, plan: [], plannedAt: null, figures: null },
  records: [],
  conflicts: [],
};
