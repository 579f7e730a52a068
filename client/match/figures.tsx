import type { MatchView } from "../../server/contract/views.ts";
import { figure } from "../words.ts";

type Figures = NonNullable<MatchView["figures"]>;

/** The plan beside what two simpler ways of dealing the leaves out would have given; less is better in every column. */
export const PlanFigures = (props: { figures: Figures; tolerance: number }) => {
  const { figures, tolerance } = props;
  const { plan, byEye, dealt, bound, proven } = figures;
  const rows = [
    { says: "This plan", ...plan },
    { says: "Picked one by one by eye", ...byEye },
    { says: "Dealt out from light to dark", ...dealt },
  ];
  const best = proven
    ? "no plan has less: proven"
    : bound > 0
      ? `no plan has less than ${figure(bound, null)}`
      : "how little a plan can have is not known";
  return (
    <>
      <table class="plain figures">
        <caption>
          Colour differences (ΔE00) of faces seen together; agreed for a match: {figure(tolerance, null)}
        </caption>
        <thead>
          <tr>
            <th scope="col">Way</th>
            <th scope="col">Worst pair</th>
            <th scope="col">Mean</th>
            <th scope="col">Spaces over {figure(tolerance, null)}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ says, worst, mean, spacesOver }) => (
            <tr key={says}>
              <th scope="row">{says}</th>
              <td class="figure">{figure(worst, null)}</td>
              <td class="figure">{figure(mean, null)}</td>
              <td class="figure">{spacesOver}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p>Worst pair of this plan: {best}.</p>
    </>
  );
};
