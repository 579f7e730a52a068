/** One of the two faces of a leaf. */
export type FaceName = "A" | "B";

/** One face of a leaf; `id` is its row in the difference table, `lightness` its mean L*, null when not measured. */
export interface LeafFace {
  readonly id: string;
  readonly lightness: number | null;
}

/**
 * A delivered leaf. `fits` says where it can hang at all: by spec (size, rating, design: equal text fits), or opening by opening.
 * A leaf that may not turn shows face A to the first space of its opening. A leaf that is `out` (returned, held, late) is left out.
 */
export interface Leaf {
  readonly id: string;
  readonly fits: { readonly spec: string } | { readonly openings: readonly string[] };
  readonly faces: { readonly A: LeafFace; readonly B: LeafFace };
  readonly mayTurn: boolean;
  readonly state: "free" | "out";
}

/** An opening for one leaf (place 0) or a pair (places 0 and 1); `spaces` are those its two sides look into, null where nobody compares. */
export interface Opening {
  readonly id: string;
  readonly spec: string;
  readonly leaves: 1 | 2;
  readonly spaces: readonly [string | null, string | null];
}

/**
 * A place from which several faces are seen together. `weight` stands for every two faces seen in it, unless `pairs`
 * names the two openings (or existing faces) with a weight of their own; 0 means they are not seen together.
 */
export interface Space {
  readonly id: string;
  readonly weight: number;
  readonly pairs?: readonly { readonly one: string; readonly other: string; readonly weight: number }[];
}

/** A face already in a space that stays there and must be matched; `id` is its row in the difference table. */
export interface ExistingFace {
  readonly id: string;
  readonly space: string;
}

/** A leaf pinned to an opening, which way round too when `turned` is given. A hung leaf is a lock. */
export interface Lock {
  readonly leaf: string;
  readonly opening: string;
  readonly place?: 0 | 1;
  readonly turned?: boolean;
}

/** A leaf kept out of an opening, or out of every opening of a space; with `face`, only that face is kept out of sight there. */
export type Ban =
  | { readonly leaf: string; readonly opening: string }
  | { readonly leaf: string; readonly space: string; readonly face?: FaceName };

/** ΔE00 of every two faces, symmetric, row and column in the order of `faces`; null where two cannot be compared. */
export interface DifferenceTable {
  readonly faces: readonly string[];
  readonly deltaE: readonly (readonly (number | null)[])[];
}

/** Everything an allotment depends on, as plain data. */
export interface AllotmentProblem {
  readonly leaves: readonly Leaf[];
  readonly openings: readonly Opening[];
  readonly spaces: readonly Space[];
  readonly existing: readonly ExistingFace[];
  readonly locks: readonly Lock[];
  readonly bans: readonly Ban[];
  readonly differences: DifferenceTable;
  /** Weight of the two leaves of a pair, whose meeting stiles stand side by side. */
  readonly meetingWeight: number;
  /** ΔE00 that two faces are taken to differ by when they cannot be compared. */
  readonly notComparedAs: number;
  /** Openings that may stay empty when leaves are short, the first to be given up first. */
  readonly mayStayEmpty: readonly string[];
}

/** A face as it hangs: of an allotted leaf, or one that was there before. */
export type Seat =
  | {
      readonly kind: "leaf";
      readonly opening: string;
      readonly place: 0 | 1;
      readonly leaf: string;
      readonly face: FaceName;
    }
  | { readonly kind: "existing"; readonly id: string };

/** Two faces seen together in a space; `weighted` is weight times ΔE00 (of the stand-in when `deltaE` is null). */
export interface SeenDifference {
  readonly space: string;
  readonly one: Seat;
  readonly other: Seat;
  readonly deltaE: number | null;
  readonly weight: number;
  readonly weighted: number;
}

/** A leaf in its place. Turned: face B looks into the first space of the opening. */
export interface PlacedLeaf {
  readonly opening: string;
  readonly place: 0 | 1;
  readonly leaf: string;
  readonly turned: boolean;
  readonly faceTo: { readonly A: string | null; readonly B: string | null };
}

/**
 * A valid plan. `worst` is the largest weighted difference inside any space; no plan can have one below `bound`;
 * `proven` when both are the same. `sum` is the sum of all weighted differences, the second thing kept low.
 */
export interface Plan {
  readonly kind: "plan";
  readonly places: readonly PlacedLeaf[];
  readonly worst: number;
  readonly worstPair: SeenDifference | null;
  readonly bound: number;
  readonly proven: boolean;
  readonly sum: number;
  /** No plan with this worst has a smaller sum. */
  readonly sumProven: boolean;
  readonly perSpace: readonly {
    readonly space: string;
    readonly worst: number;
    readonly pair: SeenDifference | null;
  }[];
  /** How many pairs seen together could not be compared. */
  readonly notCompared: number;
  readonly spare: readonly string[];
  readonly empty: readonly { readonly opening: string; readonly place: 0 | 1 }[];
}

/** Openings that compete for too few leaves: `short` leaves more are needed before any plan exists. */
export interface Lack {
  readonly openings: readonly string[];
  readonly leaves: readonly string[];
  readonly short: number;
}

export type Allotment =
  | Plan
  | {
      readonly kind: "impossible";
      readonly openings: readonly { readonly opening: string; readonly lacks: string }[];
      readonly lacks: readonly Lack[];
    }
  | { readonly kind: "refused"; readonly why: string };
