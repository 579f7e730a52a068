import type { Outcome as DecisionOutcome } from "../server/contract/leaf.ts";
import type { MarkKind, WindowTerm } from "../server/contract/terms.ts";
import type { FaceDifference, LeafSummary } from "../server/contract/views.ts";

/** Kinds of marks in the order in which a joiner looks: surface, edge, veneer, finish, construction, natural. */
export const markWords: Readonly<Record<MarkKind, string>> = {
  dent: "Dent",
  scratch: "Scratch",
  scuff: "Scuff or rub",
  stain: "Stain",
  "crushed-corner": "Crushed corner",
  "edge-chip": "Chipped edge",
  lipping: "Lipping",
  "open-joint": "Open joint",
  split: "Split",
  blister: "Blister",
  "sand-through": "Sand-through",
  "glue-bleed": "Glue bleed",
  filler: "Filler",
  "finish-run": "Run in the finish",
  "sheen-patch": "Sheen patch",
  "open-mitre": "Open mitre",
  natural: "Natural",
  other: "Other",
};

/** A mark kind as proposed by the photo, which may name one that the list does not hold. */
export const asMarkKind = (kind: string): MarkKind => (kind in markWords ? (kind as MarkKind) : "other");

export const outcomeWords: Readonly<Record<DecisionOutcome | "undecided", string>> = {
  undecided: "Not decided",
  accept: "Accepted",
  "accept-with-allowance": "Accepted with allowance",
  hold: "Held",
  return: "To be returned",
};

export const windowWords: Readonly<Record<WindowTerm["kind"], string>> = {
  shortage: "Shortage",
  damage: "Damage",
  defect: "Defects",
  "haulier-notice": "Haulier, notice",
  "haulier-claim": "Haulier, claim",
};

export const partyWords = {
  maker: "Maker",
  carrier: "Carrier",
  handling: "Handling by us",
  store: "Site store",
  "other-trades": "Other trades",
  order: "Order",
  natural: "Natural",
} as const;

export const faceStateWords: Readonly<Record<LeafSummary["faces"]["A"], string>> = {
  missing: "no photo",
  waiting: "waiting",
  retake: "take again",
  measured: "measured",
};

/** Whether two faces differ to the eye when they stand side by side. */
export const visibleWords: Readonly<Record<FaceDifference["verdict"], string>> = {
  match: "no",
  differs: "yes",
  "cannot-tell": "cannot tell",
};

export const money = (amount: number, currency: string): string =>
  new Intl.NumberFormat("en-GB", {
    style: "currency",
    currency,
    minimumFractionDigits: Number.isInteger(amount) ? 0 : 2,
  }).format(amount);

/** A figure with its 95 % uncertainty: "1.7 ± 0.4", or what stands for a missing one. */
export const figure = (value: number | null, u95: number | null): string => {
  if (value === null) return "not measured";
  return u95 === null ? value.toFixed(1) : `${value.toFixed(1)} ± ${u95.toFixed(1)}`;
};

/** "14 × 9 mm", whole millimetres. */
export const millimetres = ({ w, h }: { readonly w: number; readonly h: number }): string =>
  `${Math.round(w)} × ${Math.round(h)} mm`;

/** A part's name as said on site: "left-stile" is "left stile". */
export const partWords = (name: string): string => name.replaceAll("-", " ");

/** A number typed with a decimal point or comma; null for an empty field, NaN for anything else. */
export const typedNumber = (text: string): number | null => {
  const plain = text.trim().replace(",", ".");
  if (plain === "") return null;
  return /^-?\d+(\.\d+)?$/.test(plain) ? Number(plain) : Number.NaN;
};
