/** The name under which a reference's patches are known in the adjustment: a printed card by its own number. */
export const referenceId = (kind: "card" | "chart" | "grey", id: string | null): string =>
  kind === "card" ? `card ${id ?? "without number"}` : kind;
