import type { MatchView } from "../../server/contract/views.ts";
import { figure } from "../words.ts";
import { bestWords } from "./figure-words.ts";

type Figures = NonNullable<MatchView["figures"]>;

/** The plan beside what two simpler ways of dealing the leaves out would have given; less is better in every column. */
export const PlanFigures = (props: { figures: Figures; tolerance: number }) => {
  const { figures, tolerance } = props;
  const { plan, byEye, dealt, forcedBy } = figures;
  const rows = [
    { says: "This plan", ...plan },
    { says: "Picked by eye", ...byEye },
    { says: "Dealt light to dark", ...dealt },
  ];
  return (
    <>
      <table class="plain figures">
        <caption>
          Colour difference ΔE00 of faces seen together, at the upper end of its uncertainty and by where they stand:
          less is better, up to {figure(tolerance, null)} is agreed
        </caption>
        <thead>
          <tr>
            <th scope="col">Way</th>
            <th scope="col" class="figure">
              Worst pair
            </th>
            <th scope="col" class="figure">
              Mean
            </th>
            <th scope="col" class="figure">
              Spaces over {figure(tolerance, null)}
            </th>
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
      <p>{bestWords(figures)}</p>
      {forcedBy && (
        <p>
          {plan.worst > tolerance && "Worst pair: "}
          {forcedBy}
        </p>
      )}
    </>
  );
};
