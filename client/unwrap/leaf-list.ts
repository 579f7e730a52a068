import type { LeafSummary } from "../../server/contract/views.ts";

/** Which leaves a list shows; the word stands in the address. */
export const listings = {
  all: "All",
  wrapped: "To unwrap",
  photo: "Photo missing",
  undecided: "To decide",
  settled: "Decided",
} as const;
export type Listing = keyof typeof listings;

export const asListing = (word: string | undefined): Listing => (word && word in listings ? (word as Listing) : "all");

const measured = ({ faces }: LeafSummary) => faces.A === "measured" && faces.B === "measured";

/** A leaf that hangs on the site already has no line: it is photographed, but neither unwrapped nor decided. */
export const belongs = (leaf: LeafSummary, listing: Listing): boolean => {
  if (listing === "all") return true;
  if (listing === "photo") return !measured(leaf);
  if (leaf.line === null) return false;
  if (listing === "wrapped") return !leaf.unwrapped;
  return (leaf.outcome === "undecided") === (listing === "undecided");
};
