/** How a measured figure stands to an agreed limit. */
export type Standing = "within" | "beyond" | "undecided";

/**
 * Compares a figure with an upper limit. Who claims must show that the limit is broken, so "beyond" begins above the limit
 * by the expanded uncertainty, "within" ends below it by as much, and between them nothing is decided.
 * Source: ISO 14253-1 (rule for proving non-conformity; from memory).
 */
export const standing = (value: number, limit: number, uncertainty: number): Standing => {
  if (value > limit + uncertainty) return "beyond";
  return value <= limit - uncertainty ? "within" : "undecided";
};
