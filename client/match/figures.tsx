import type { MatchView } from "../../server/contract/views.ts";
import { figure } from "../words.ts";

type Figures = NonNullable<MatchView["figures"]>;

/** The plan's worst pair beside what is possible and what simpler ways of dealing out would give. Shorter is better. */
export const PlanFigures = (props: { figures: Figures; tolerance: number }) => {
  const { figures, tolerance } = props;
  const rows = [
    ["This plan", figures.worst, ""],
    [figures.proven ? "Best possible, proven" : "Not better than", figures.bound, ""],
    ["Picked one by one by eye", figures.byEye, "other"],
    ["Dealt out from light to dark", figures.dealt, "other"],
  ] as const;
  const most = Math.max(tolerance, ...rows.map(([, value]) => value)) * 1.05;
  return (
    <table class="plain figures">
      <caption>
        Worst pair seen together, as colour difference (ΔE00); agreed for a match: {figure(tolerance, null)}
      </caption>
      <tbody>
        {rows.map(([says, value, tone]) => (
          <tr key={says}>
            <th scope="row">{says}</th>
            <td class="figure">{figure(value, null)}</td>
            <td class="bar">
              <svg viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">
                <rect class={tone} width={(value / most) * 100} height="10" />
                <line x1={(tolerance / most) * 100} x2={(tolerance / most) * 100} y1="0" y2="10" />
              </svg>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
};
