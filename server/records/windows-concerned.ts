import type { MarkKind } from "../contract/terms.ts";
import type { ClaimWindow } from "../contract/views.ts";
import type { WindowConcerned } from "./record-schema.ts";

/** Marks that a knock or a journey leaves, as against those of making. Common practice, no source. */
const damageKinds: ReadonlySet<MarkKind> = new Set([
  "dent",
  "scratch",
  "scuff",
  "stain",
  "crushed-corner",
  "edge-chip",
]);

interface ReturnedLeaf {
  readonly code: string;
  readonly decision: { readonly party: string | null } | null;
  readonly marks: readonly { readonly kind: MarkKind; readonly party: string | null }[];
}

/**
 * Which claim windows a returned leaf runs under. Damage in carriage runs under those of damage and of the haulier, a
 * knock of unknown cause under that of damage, everything else under that of a defect.
 */
export const windowKindsOf = ({ decision, marks }: ReturnedLeaf): ClaimWindow["kind"][] => {
  if (decision?.party === "carrier" || marks.some(({ party }) => party === "carrier"))
    return ["damage", "haulier-notice", "haulier-claim"];
  return marks.some(({ kind }) => damageKinds.has(kind)) ? ["damage"] : ["defect"];
};

/** The windows of some leaves, each once with all leaves it runs for, the first to shut first. */
export const windowsConcerned = (
  leaves: readonly ReturnedLeaf[],
  windowsOf: (leaf: string) => readonly ClaimWindow[],
): WindowConcerned[] => {
  const found = new Map<string, WindowConcerned>();
  for (const leaf of leaves) {
    const kinds = windowKindsOf(leaf);
    for (const window of windowsOf(leaf.code).filter(({ kind }) => kinds.includes(kind))) {
      const key = `${window.kind} ${window.to} ${window.deadline}`;
      const known = found.get(key);
      found.set(key, { ...window, leaves: [...(known?.leaves ?? []), leaf.code] });
    }
  }
  return [...found.values()].sort((a, b) => Date.parse(a.deadline) - Date.parse(b.deadline));
};
