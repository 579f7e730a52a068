import type { MatchView } from "../../server/contract/views.ts";
import { figure } from "../words.ts";

type Figures = NonNullable<MatchView["figures"]>;

interface Row {
  readonly says: string;
  /** Null where nothing is known yet. */
  readonly value: number | null;
  readonly other: boolean;
}

/** The plan's worst pair, what it can be at best, and what two simpler ways would have given. */
const rowsOf = ({ worst, bound, proven, byEye, dealt }: Figures): readonly Row[] => [
  { says: "This plan", value: worst, other: false },
  {
    says: proven ? "Best possible, proven" : "Best possible, no less than",
    value: proven || bound > 0 ? bound : null,
    other: false,
  },
  { says: "Picked one by one by eye", value: byEye, other: true },
  { says: "Dealt out from light to dark", value: dealt, other: true },
];

/** Figures of the plan as bars, shorter is better; the line is the agreed difference for a match. */
export const PlanFigures = (props: { figures: Figures; tolerance: number }) => {
  const { figures, tolerance } = props;
  const rows = rowsOf(figures);
  const most = Math.max(tolerance, ...rows.map(({ value }) => value ?? 0)) * 1.05;
  return (
    <table class="plain figures">
      <caption>
        Worst pair seen together, as colour difference (ΔE00); agreed for a match: {figure(tolerance, null)}
      </caption>
      <tbody>
        {rows.map(({ says, value, other }) => (
          <tr key={says}>
            <th scope="row">{says}</th>
            <td class="figure">{value === null ? "not known" : figure(value, null)}</td>
            <td class="bar">
              <svg viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">
                <rect class={other ? "other" : undefined} width={((value ?? 0) / most) * 100} height="10" />
                <line x1={(tolerance / most) * 100} x2={(tolerance / most) * 100} y1="0" y2="10" />
              </svg>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
};
