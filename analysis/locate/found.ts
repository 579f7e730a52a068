import type { Lens } from "../lens.ts";
import type { Quad } from "../pixels.ts";

/** A QR code as a reader gives it: corners in the code's own order (top left, top right, bottom right, bottom left), px. */
export interface FoundCode {
  readonly text: string;
  readonly corners: Quad;
}

/** One leaf of the photo: its four corners in photo px and a score from 0 to 1, or why it was not found. */
export type LeafOutcome =
  | { readonly kind: "found"; readonly corners: Quad; readonly score: number; readonly byHand: boolean }
  | { readonly kind: "not-found"; readonly why: WhyMissing; readonly score: number };

/** Why a leaf was not found: nothing like it is there, or not surely; it runs out of the picture; it is seen too small or too much askance. */
export type WhyMissing = "no-outline" | "unsure" | "cut-off" | "too-small" | "too-oblique";

/** A card, chart or grey card: corners from its own top left (a chart's is the corner with the brown patch), photo px. */
export interface FoundReference {
  readonly kind: "card" | "chart" | "grey";
  readonly id: string | null;
  readonly corners: Quad;
  readonly score: number;
  readonly byHand: boolean;
}

/** What a photo shows and where; leaves in the order asked for, left to right. */
export interface Located {
  readonly leaves: readonly LeafOutcome[];
  readonly references: readonly FoundReference[];
  readonly lens: Lens;
}
