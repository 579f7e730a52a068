import type { OrderLine } from "../../server/contract/delivery.ts";
import type { LeafSummary } from "../../server/contract/views.ts";

/** Which leaves a list shows; the word stands in the address. */
export const listings = {
  all: "All",
  wrapped: "To unwrap",
  photo: "Photo missing",
  undecided: "To decide",
  held: "Held",
  settled: "Decided",
} as const;
export type Listing = keyof typeof listings;

export const asListing = (word: string | undefined): Listing => (word && word in listings ? (word as Listing) : "all");

/** The leaves of the delivery as they came; after them those that hang on the site already. */
export const inOrder = (leaves: readonly LeafSummary[]): readonly LeafSummary[] =>
  leaves.toSorted((a, b) => Number(a.line === null) - Number(b.line === null));

/**
 * A leaf that hangs on the site already has no line: it is neither unwrapped nor decided, and a photo of the face that
 * is seen is enough.
 */
export const belongs = (leaf: LeafSummary, listing: Listing): boolean => {
  if (listing === "all") return true;
  const { A, B } = leaf.faces;
  if (leaf.line === null) return listing === "photo" && A !== "measured" && B !== "measured";
  if (listing === "photo") return A !== "measured" || B !== "measured";
  if (listing === "wrapped") return !leaf.unwrapped;
  if (listing === "held") return leaf.outcome === "hold";
  return (leaf.outcome === "undecided") === (listing === "undecided");
};

/** What a leaf that is added to a line most likely is: as ordered until the line is full, then one too many. */
export const likelyIdentity = (leaves: readonly LeafSummary[], line: OrderLine): "as-ordered" | "over" =>
  leaves.filter((leaf) => leaf.line === line.id).length < line.ordered ? "as-ordered" : "over";
