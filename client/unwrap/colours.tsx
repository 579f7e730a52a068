import type { LeafView } from "../../server/contract/views.ts";
import { Scroll } from "../scroll.tsx";
import { figure, partWords } from "../words.ts";

type Measured = LeafView["faces"][number];

const fewParts = 3;

const Table = (props: { measured: Measured }) => (
  <Scroll label={`Table of the colours of face ${props.measured.face}`}>
    <table class="plain colours">
      <caption>L* lightness, a* red–green, b* yellow–blue</caption>
      <thead>
        <tr>
          <th scope="col">Part</th>
          <th scope="col" class="figure">
            L*
          </th>
          <th scope="col" class="figure">
            a*
          </th>
          <th scope="col" class="figure">
            b*
          </th>
          <th scope="col" class="figure">
            Sure to
          </th>
        </tr>
      </thead>
      <tbody>
        {props.measured.parts.map(({ part, lab: [l, a, b], u95, swatch }) => (
          <tr key={part}>
            <th scope="row">
              <span class="named">
                <svg class="swatch" viewBox="0 0 20 20" aria-hidden="true">
                  <rect width="20" height="20" fill={swatch} />
                </svg>
                {partWords(part)}
              </span>
            </th>
            <td class="figure">{figure(l, null)}</td>
            <td class="figure">{figure(a, null)}</td>
            <td class="figure">{figure(b, null)}</td>
            <td class="figure">{u95 === null ? "no grey" : `± ${figure(u95, null)}`}</td>
          </tr>
        ))}
      </tbody>
    </table>
  </Scroll>
);

const grainSays = ({ grain }: Measured): string =>
  grain
    .map(
      ({ part, figure: kind, pitchMm, u95 }) =>
        `${partWords(part)} ${kind}${pitchMm === null ? "" : `, a line every ${figure(pitchMm, u95.pitchMm)} mm`}`,
    )
    .join("; ");

const PartByPart = (props: { measured: Measured }) => (
  <>
    <Table measured={props.measured} />
    {props.measured.grain.length > 0 && <p>Grain: {grainSays(props.measured)}.</p>}
  </>
);

/** Measured colours of the parts of a face: a swatch for the eye, numbers that decide. Many parts fold away. */
export const Colours = (props: { delivery: string; view: LeafView; face: "A" | "B" }) => {
  const { leaf, pattern } = props.view;
  const measured = props.view.faces.find(({ face }) => face === props.face);
  const lightness = measured?.parts.map(({ lab }) => lab[0]) ?? [];
  return (
    <section aria-labelledby="colours">
      <h2 id="colours">Colours of face {props.face}</h2>
      {!measured || lightness.length === 0 ? (
        <p>Not measured yet. A photo with a card or with other leaves in it gives the colours.</p>
      ) : (
        <>
          {lightness.length <= fewParts ? (
            <PartByPart measured={measured} />
          ) : (
            <details>
              <summary>
                {lightness.length} parts, lightness {figure(Math.min(...lightness), null)} to{" "}
                {figure(Math.max(...lightness), null)}
              </summary>
              <PartByPart measured={measured} />
            </details>
          )}
          <p class="quiet">
            CIELAB, daylight D65. “Sure to” is the colour difference ΔE00 within which the true colour lies with 95 %;
            “no grey” is a colour that no grey card or chart ties down: there only the differences to leaves seen with
            it are sure. Screen colours are a guide, the numbers decide.
          </p>
        </>
      )}
      {pattern.parts.length > 1 && (
        <p>
          <a href={`/d/${props.delivery}/joints/${pattern.id}?leaf=${leaf.code}&face=${props.face}`}>
            The joints lie elsewhere
          </a>
        </p>
      )}
    </section>
  );
};
