import type { Delivery, Opening, OrderLine } from "../../server/contract/delivery.ts";
import type { Decision, Leaf, Mark, Outcome, Pattern } from "../../server/contract/leaf.ts";
import type { Photo } from "../../server/contract/photo.ts";
import type { LeafView } from "../../server/contract/views.ts";
import { smallDelivery, someTerms } from "./small-delivery.ts";

export const aLine = (given: Partial<OrderLine>): OrderLine => ({
  id: "L1",
  item: "oak leaf",
  productCode: "OK-1",
  price: 100,
  ordered: 1,
  onNote: 1,
  counted: null,
  pattern: "FL-2040X826",
  thicknessMm: 44,
  veneer: "oak crown",
  fireRating: null,
  leavesPerUnit: 1,
  ...given,
});

export const aLeaf = (given: Partial<Leaf>): Leaf => ({
  code: "W01",
  line: "L1",
  pattern: "FL-2040X826",
  thicknessMm: 44,
  batch: null,
  identity: "as-ordered",
  pairWith: null,
  replaces: null,
  massKg: null,
  unwrappedAt: "2026-03-03T11:00:00+00:00",
  cut: false,
  shape: [],
  decision: null,
  ...given,
});

export const decided = (outcome: Outcome, allowance: number | null = null): Decision => ({
  outcome,
  reason: "because",
  allowance,
  party: null,
  asks: null,
  by: "R. Tester",
  at: "2026-03-03T12:00:00+00:00",
});

export const aMark = (given: Partial<Mark>): Mark => ({
  id: "01J00000000000000000000000",
  leaf: "W01",
  face: "A",
  kind: "dent",
  box: { x: 100, y: 100, w: 10, h: 6 },
  depthMm: null,
  contrastDE00: null,
  seenFromM: null,
  photo: null,
  party: null,
  note: "",
  foundBy: "person",
  by: "R. Tester",
  at: "2026-03-03T12:00:00+00:00",
  withdrawn: false,
  ...given,
});

export const aPattern = (given: Partial<Pattern>): Pattern => ({
  id: "FL-1981X838",
  name: "flush 1981 x 838",
  widthMm: 838,
  heightMm: 1981,
  parts: [{ name: "face", kind: "face", grain: "v", rectMm: [0, 0, 838, 1981] }],
  ...given,
});

export const anOpening = (given: Partial<Opening>): Opening => ({
  id: "1.01",
  lines: [],
  leaves: 1,
  sides: [null, null],
  fireRating: null,
  hinge: null,
  existingLeaf: null,
  note: "",
  ...given,
});

/** A photo of some kind that shows these faces. */
export const aPhoto = (kind: Photo["kind"], ...shows: (readonly [string, "A" | "B"])[]): Photo => ({
  id: "a".repeat(64),
  name: "x.jpg",
  kind,
  shows: shows.map(([leaf, face]) => ({ leaf, face, corners: null })),
  note: "",
  takenAt: null,
  receivedAt: "2026-03-03T12:00:00+00:00",
  bytes: 1,
  width: 3000,
  height: 4000,
  camera: "",
  flags: [],
});

/** The grain of a flush face: crown, upright, a line every 4 mm. */
export const aGrain: LeafView["faces"][number]["grain"][number] = {
  part: "face",
  kind: "face",
  directionDeg: 0,
  pitchMm: 4,
  contrastL: 2,
  spreadDeg: 12,
  u95: { directionDeg: 1, pitchMm: 0.5, contrastL: 0.2, spreadDeg: 2 },
  figure: "crown",
};

/** A delivery of the parts given; everything else is empty. */
export const aDelivery = ({
  plan = [],
  ...given
}: Partial<Delivery> & { readonly plan?: Delivery["allotment"]["plan"] }): Delivery => ({
  version: 2,
  id: "some",
  job: smallDelivery.job,
  terms: someTerms,
  patterns: [],
  lines: [],
  spaces: [],
  openings: [],
  leaves: [],
  photos: [],
  marks: [],
  readings: [],
  allotment: { locks: [], bans: [], plan, plannedAt: null, figures: null },
  records: [],
  conflicts: [],
  ...given,
});
