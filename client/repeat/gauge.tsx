import type { RepeatGauge } from "../../server/contract/repeat.ts";
import { Scroll } from "../scroll.tsx";

const words: Readonly<
  Record<RepeatGauge["by"], { readonly title: string; readonly one: string; readonly other: string }>
> = {
  phone: { title: "Phones against each other", one: "Same phone again", other: "Phone to phone" },
  person: { title: "People against each other", one: "Same person again", other: "Person to person" },
};

const axisWords: Readonly<Record<RepeatGauge["rows"][number]["axis"], string>> = {
  L: "L*",
  a: "a*",
  b: "b*",
  colour: "ΔE00",
};

/** The same faces by several phones or people: what each differs by, what they differ by, and what the leaves do. */
export const Gauge = (props: { gauge: RepeatGauge }) => {
  const { by, appraisers, faces, times, rows, limit } = props.gauge;
  const { title, one, other } = words[by];
  const colour = rows.find(({ axis }) => axis === "colour");
  return (
    <section class="gauge" aria-labelledby={`by-${by}`}>
      <h2 id={`by-${by}`}>{title}</h2>
      <p>
        Less than ΔE00 <strong>{limit.toFixed(1)}</strong> is no reliable difference between photos by two{" "}
        {by === "phone" ? "phones" : "people"}. {appraisers.join(", ")}: {faces.length} faces, {times} times each.
      </p>
      <Scroll label={title}>
        <table class="plain">
          <caption>Standard deviations</caption>
          <thead>
            <tr>
              <th scope="col">Colour</th>
              {[one, other, "Both", "Leaves", "Both, of all"].map((says) => (
                <th key={says} scope="col" class="figure">
                  {says}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map(({ axis, repeat, reproduce, gauge, part, gaugePercent }) => (
              <tr key={axis} class={axis === "colour" ? "sum" : undefined}>
                <th scope="row">{axisWords[axis]}</th>
                {[repeat, reproduce, gauge, part].map((value, column) => (
                  <td key={["repeat", "reproduce", "gauge", "part"][column]} class="figure">
                    {value.toFixed(2)}
                  </td>
                ))}
                <td class="figure">{Math.round(gaugePercent)} %</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
      <p class="quiet">
        Gauge repeatability and reproducibility: of all the spread that is seen, {Math.round(colour?.gaugePercent ?? 0)}{" "}
        % come from photos and {by === "phone" ? "phones" : "people"}. They tell {colour?.classes ?? 0} classes of leaf
        colour apart; five or more are asked of a gauge by common practice.
      </p>
    </section>
  );
};
