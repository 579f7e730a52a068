import type { Reply } from "../../server/contract/calls.ts";
import { Scroll } from "../scroll.tsx";

type Edition = Reply<"charts">["editions"][number];

const letters = ["A", "B", "C", "D"];

/** The 24 patches as they stand on the chart, to be held against the real one, and their values in figures. */
export const ChartPatches = (props: { edition: Edition }) => {
  const { title, white, patches } = props.edition;
  return (
    <>
      <svg class="chart-patches" viewBox="0 0 278 190" role="img" aria-label={`Patches of the ${title}`}>
        <rect class="chart-sheet" width={278} height={190} />
        {patches.map(({ swatch }, i) => (
          <rect
            key={`${i} ${swatch}`}
            x={10 + 44 * (i % 6)}
            y={10 + 44 * Math.floor(i / 6)}
            width={38}
            height={38}
            fill={swatch}
          />
        ))}
      </svg>
      <details>
        <summary>Values of the 24 patches</summary>
        <Scroll label={`Values of the ${title}`}>
          <table class="plain">
            <caption>CIELAB in {white}, 2 degrees, row by row from the brown patch</caption>
            <thead>
              <tr>
                <th scope="col">Patch</th>
                <th scope="col" class="figure">
                  L*
                </th>
                <th scope="col" class="figure">
                  a*
                </th>
                <th scope="col" class="figure">
                  b*
                </th>
              </tr>
            </thead>
            <tbody>
              {patches.map(({ lab, swatch }, i) => (
                <tr key={`${i} ${swatch}`}>
                  <th scope="row">
                    {letters[Math.floor(i / 6)]}
                    {(i % 6) + 1}
                  </th>
                  {lab.map((value, k) => (
                    <td key={k} class="figure">
                      {value.toFixed(2)}
                    </td>
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        </Scroll>
      </details>
    </>
  );
};
