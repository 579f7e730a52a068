import type { FaceDifference } from "../../server/contract/views.ts";
import { Scroll } from "../scroll.tsx";
import { figure, partWords, visibleWords } from "../words.ts";

/** Every pair of faces seen together, the largest difference first. */
export const DifferenceTable = (props: { space: string; differences: readonly FaceDifference[] }) => (
  <details>
    <summary>
      {props.differences.length === 1 ? "The pair" : `All ${props.differences.length} pairs`} as a table
    </summary>
    <Scroll label={`Differences in ${props.space}`}>
      <table class="plain pairs">
        <thead>
          <tr>
            <th scope="col">Pair</th>
            <th scope="col">ΔE00</th>
            <th scope="col">Visible side by side</th>
          </tr>
        </thead>
        <tbody>
          {props.differences
            .toSorted(
              (one, other) => (other.deltaE ?? Number.POSITIVE_INFINITY) - (one.deltaE ?? Number.POSITIVE_INFINITY),
            )
            .map(({ a, b, part, deltaE, u95, verdict, advice, withinRepeats }) => (
              <tr key={`${a.leaf}${a.face} ${b.leaf}${b.face}`}>
                <th scope="row">
                  {a.leaf} {a.face} – {b.leaf} {b.face}
                  {part && part !== "face" && <small class="quiet">{partWords(part)}</small>}
                </th>
                <td>{figure(deltaE, u95)}</td>
                <td>
                  {visibleWords[verdict]}
                  {withinRepeats && <small>no reliable difference</small>}
                  {advice && <small class="quiet">{advice}</small>}
                </td>
              </tr>
            ))}
        </tbody>
      </table>
    </Scroll>
  </details>
);
