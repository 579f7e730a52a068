/** One of the two faces of a leaf. */
export type FaceName = "A" | "B";

/** Which edge of a leaf, or of an opening, carries the hinges. */
export type Hand = "left" | "right";

/**
 * One face of a leaf; `id` is its row in the difference table, `lightness` its mean L*, null when not measured. `mark`: an accepted
 * mark on it, as the ΔE00 it counts for in a space where marks count once.
 */
export interface LeafFace {
  readonly id: string;
  readonly lightness: number | null;
  readonly mark?: number;
}

/**
 * A delivered leaf. `fits` says where it can hang at all: by spec (size, rating, design: equal text fits), or opening by opening.
 * A leaf that may not turn shows face A to the first space of its opening. A leaf that is `out` (returned, held, late) is left out.
 * A leaf prepared for hinges has a `hand` and only hangs in openings of that hand, or of none; `fireMinutes` is at least what its opening asks for.
 */
export interface Leaf {
  readonly id: string;
  readonly fits: { readonly spec: string } | { readonly openings: readonly string[] };
  readonly faces: { readonly A: LeafFace; readonly B: LeafFace };
  readonly mayTurn: boolean;
  readonly state: "free" | "out";
  readonly hand?: Hand;
  readonly fireMinutes?: number;
}

/** An opening for one leaf (place 0) or a pair (places 0 and 1); `spaces` are those its two sides look into, null where nobody compares. */
export interface Opening {
  readonly id: string;
  readonly spec: string;
  readonly leaves: 1 | 2;
  readonly spaces: readonly [string | null, string | null];
  readonly hand?: Hand;
  readonly fireMinutes?: number;
}

/**
 * A place from which several faces are seen together. `weight` stands for every two faces seen in it, unless `pairs`
 * names the two openings (or existing faces) with a weight of their own; 0 means they are not seen together.
 */
export interface Space {
  readonly id: string;
  readonly weight: number;
  readonly pairs?: readonly { readonly one: string; readonly other: string; readonly weight: number }[];
  /** Openings and existing faces along each wall, in their order: who stands beside whom. Each stands once. */
  readonly walls?: readonly (readonly string[])[];
  /** Lightness steps one way along each wall; one that steps back by 1 L* counts as `stepBack` ΔE00 more between those two. */
  readonly gentle?: { readonly goes: "lighter" | "darker"; readonly stepBack: number };
  /** A face lighter than `average` L* beside one that is darker counts as `adds` ΔE00 more. */
  readonly lightBesideDark?: { readonly average: number; readonly adds: number };
  /** How much marks count here: 0 where nobody looks, 1 when not given. */
  readonly marksCount?: number;
}

/** A face already in a space that stays there and must be matched; `id` is its row in the difference table. */
export interface ExistingFace {
  readonly id: string;
  readonly space: string;
  readonly lightness?: number | null;
}

/** What the weight of a space is multiplied by for two faces of it, by where they stand along its walls. */
export interface SightWeights {
  readonly beside: number;
  /** On different walls. */
  readonly across: number;
  /** On one wall with others between them. */
  readonly apart: number;
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

/**
 * ΔE00 of every two faces, symmetric, row and column in the order of `faces`; null where two cannot be compared.
 * `u95`: half-widths of their 95 % intervals, ΔE00.
 */
export interface DifferenceTable {
  readonly faces: readonly string[];
  readonly deltaE: readonly (readonly (number | null)[])[];
  readonly u95?: readonly (readonly (number | null)[])[];
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
  /**
   * How sure one wants to be that differences stay below what they are planned for: each counts as its upper bound at this one-sided
   * confidence, 0.5 to below 1. 0.5 takes them as measured. Not given: 0.95. Of no effect without `u95`.
   */
  readonly confidence?: number;
  /** ΔE00: spaces whose largest weighted difference passes it are kept few once the largest differences are settled. */
  readonly tolerance?: number;
  /** Weight of the two leaves of a pair, whose meeting stiles stand side by side. */
  readonly meetingWeight: number;
  /** For spaces whose walls are told; all 1 when not given. */
  readonly sight?: SightWeights;
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

/**
 * Two faces seen together in a space. `weighted` is what they count for: weight times the upper bound of ΔE00 (the stand-in when `deltaE`
 * is null) and what stepping back or light beside dark adds. `adds`: that last part, before it is weighted, when there is any.
 */
export interface SeenDifference {
  readonly space: string;
  readonly one: Seat;
  readonly other: Seat;
  readonly deltaE: number | null;
  readonly u95?: number | null;
  readonly weight: number;
  readonly adds?: number;
  readonly weighted: number;
}

/** An accepted mark where it is seen; `counts` is its ΔE00 times how much marks count in the space. */
export interface SeenMark {
  readonly space: string;
  readonly opening: string;
  readonly leaf: string;
  readonly face: FaceName;
  readonly counts: number;
}

/** A leaf in its place. Turned: face B looks into the first space of the opening. */
export interface PlacedLeaf {
  readonly opening: string;
  readonly place: 0 | 1;
  readonly leaf: string;
  readonly turned: boolean;
  readonly faceTo: { readonly A: string | null; readonly B: string | null };
}

/** One of the largest weighted differences of a plan, and what no plan can better once those before it are as small as can be. */
export interface Settled {
  readonly worst: number;
  readonly bound: number;
}

/**
 * A valid plan. `worst` is the largest weighted difference (or mark) inside any space; no plan can have one below `bound`;
 * `proven` when both are the same. `sum` is the sum of all of them, the last thing kept low.
 */
export interface Plan {
  readonly kind: "plan";
  readonly places: readonly PlacedLeaf[];
  readonly worst: number;
  readonly worstPair: SeenDifference | null;
  readonly bound: number;
  readonly proven: boolean;
  /**
   * The largest, the next largest and so on, as far as each was settled (proven but for the last); from the first that is not on, only
   * the spaces over tolerance and the sum were kept low. Groups that have nothing to do with each other have such lists of their own.
   */
  readonly settled: readonly (readonly Settled[])[];
  readonly sum: number;
  /** No plan with these settled differences has a smaller sum. */
  readonly sumProven: boolean;
  readonly perSpace: readonly {
    readonly space: string;
    readonly worst: number;
    readonly pair: SeenDifference | null;
  }[];
  /** Accepted marks that are seen, the one that counts most first. */
  readonly marks: readonly SeenMark[];
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
