import type { OrderLine } from "../../server/contract/delivery.ts";
import type { Decision, Leaf, Mark, Outcome } from "../../server/contract/leaf.ts";

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
