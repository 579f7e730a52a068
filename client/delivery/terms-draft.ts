import type { SupplierTerms, WindowTerm } from "../../server/contract/terms.ts";
import { typedNumber } from "../words.ts";

/** Figures of the terms as they are typed; windows as rows. */
export interface TermsDraft {
  readonly windows: readonly (Omit<WindowTerm, "amount"> & { readonly amount: string })[];
  readonly figures: Readonly<Record<TermFigure, string>>;
  readonly holidays: string;
  readonly closedDays: string;
  readonly dayEndsAt: string;
  readonly light: string;
  readonly beforeUnwrapping: string;
  readonly marks: readonly MarkLimitDraft[];
}

/** Limits of one kind of mark as typed; an empty field sets no limit. */
export type MarkLimitDraft = { readonly [Key in keyof MarkLimit]: Key extends "kind" ? MarkLimit[Key] : string };
type MarkLimit = SupplierTerms["marks"][number];

/** Every figure of the terms with its label and unit. */
export const termFigures = {
  humidityMinPercent: ["Humidity at least", "%"],
  humidityMaxPercent: ["Humidity at most", "%"],
  temperatureMinC: ["Temperature at least", "°C"],
  temperatureMaxC: ["Temperature at most", "°C"],
  swingPercentPerDay: ["Humidity change in a day at most", "%"],
  longestGapHours: ["Time between readings at most", "hours"],
  bowMm: ["Bow at most", "mm"],
  twistMm: ["Twist at most", "mm"],
  cupMm: ["Cup at most", "mm"],
  uncertaintyMm: ["Shape readings sure to", "mm"],
  toleranceDE00: ["Colour difference ΔE00 that still matches", ""],
  confidencePercent: ["Sure of it to", "%"],
  distanceM: ["Marks are judged from", "m"],
} as const;
export type TermFigure = keyof typeof termFigures;

/** An empty sheet: no figure is assumed, all are agreed with the supplier. */
export const emptyTerms: TermsDraft = {
  windows: [],
  figures: Object.fromEntries(Object.keys(termFigures).map((key) => [key, ""])) as Record<TermFigure, string>,
  holidays: "GB-ENG",
  closedDays: "",
  dayEndsAt: "17:00",
  light: "",
  beforeUnwrapping: "",
  marks: [],
};

export const draftOf = (terms: SupplierTerms): TermsDraft => {
  const { store, shape, viewing } = terms;
  const values: Record<TermFigure, number> = {
    ...store,
    ...shape,
    toleranceDE00: terms.toleranceDE00,
    confidencePercent: terms.confidence * 100,
    distanceM: viewing.distanceM,
  };
  return {
    windows: terms.windows.map((window) => ({ ...window, amount: String(window.amount) })),
    figures: Object.fromEntries(Object.entries(values).map(([key, value]) => [key, String(value)])) as Record<
      TermFigure,
      string
    >,
    holidays: terms.holidays,
    closedDays: terms.closedDays.join(", "),
    dayEndsAt: terms.dayEndsAt,
    light: viewing.light,
    beforeUnwrapping: terms.beforeUnwrapping ?? "",
    marks: terms.marks.map(({ kind, longestMm, deepestMm, contrastDE00 }) => ({
      kind,
      longestMm: String(longestMm ?? ""),
      deepestMm: String(deepestMm ?? ""),
      contrastDE00: String(contrastDE00 ?? ""),
    })),
  };
};

const limitOf = ({ kind, longestMm, deepestMm, contrastDE00 }: MarkLimitDraft): MarkLimit => ({
  kind,
  longestMm: typedNumber(longestMm),
  deepestMm: typedNumber(deepestMm),
  contrastDE00: typedNumber(contrastDE00),
});

/** The terms, or the label of the first figure that is missing or no number. */
export const termsOf = (
  draft: TermsDraft,
): { readonly kind: "terms"; readonly terms: SupplierTerms } | { readonly kind: "missing"; readonly label: string } => {
  const numbers = Object.entries(draft.figures).map(([key, text]) => [key, typedNumber(text)] as const);
  for (const [key, value] of [
    ...numbers,
    ...draft.windows.map(({ amount }) => ["window", typedNumber(amount)] as const),
  ])
    if (value === null || Number.isNaN(value))
      return {
        kind: "missing",
        label: key === "window" ? "length of a claim window" : termFigures[key as TermFigure][0],
      };
  const marks = draft.marks.map(limitOf);
  if (marks.some((limit) => Object.values(limit).some(Number.isNaN)))
    return { kind: "missing", label: "a limit of a mark" };
  const n = Object.fromEntries(numbers) as Record<TermFigure, number>;
  return {
    kind: "terms",
    terms: {
      windows: draft.windows.map((window) => ({ ...window, amount: Number(window.amount) })),
      holidays: draft.holidays.trim(),
      closedDays: draft.closedDays.split(/[\s,;]+/).filter(Boolean),
      dayEndsAt: draft.dayEndsAt,
      store: {
        humidityMinPercent: n.humidityMinPercent,
        humidityMaxPercent: n.humidityMaxPercent,
        temperatureMinC: n.temperatureMinC,
        temperatureMaxC: n.temperatureMaxC,
        swingPercentPerDay: n.swingPercentPerDay,
        longestGapHours: n.longestGapHours,
      },
      shape: { bowMm: n.bowMm, twistMm: n.twistMm, cupMm: n.cupMm, uncertaintyMm: n.uncertaintyMm },
      marks,
      toleranceDE00: n.toleranceDE00,
      confidence: n.confidencePercent / 100,
      viewing: { distanceM: n.distanceM, light: draft.light },
      beforeUnwrapping: draft.beforeUnwrapping.trim() || null,
    },
  };
};
