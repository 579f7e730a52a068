import type { LeafView } from "../../server/contract/views.ts";
import { Scroll } from "../scroll.tsx";
import { partWords } from "../words.ts";

const grainWords = { straight: "straight", crown: "crown", plain: "plain" } as const;

/** Measured colours of the parts of a face: a swatch for the eye, numbers that decide. */
export const Colours = (props: { view: LeafView; face: "A" | "B" }) => {
  const measured = props.view.faces.find(({ face }) => face === props.face);
  return (
    <section aria-labelledby="colours">
      <h2 id="colours">Colours of face {props.face}</h2>
      {!measured || measured.parts.length === 0 ? (
        <p>Not measured yet. A photo with a card or with other leaves in it gives the colours.</p>
      ) : (
        <>
          <Scroll label={`Colours of face ${props.face}`}>
            <table class="plain colours">
              <thead>
                <tr>
                  <th scope="col">Part</th>
                  <th scope="col">
                    Lightness <span class="quiet">L*</span>
                  </th>
                  <th scope="col">
                    Red–green <span class="quiet">a*</span>
                  </th>
                  <th scope="col">
                    Yellow–blue <span class="quiet">b*</span>
                  </th>
                  <th scope="col">Sure to</th>
                </tr>
              </thead>
              <tbody>
                {measured.parts.map(({ part, lab: [l, a, b], u95, swatch }) => (
                  <tr key={part}>
                    <th scope="row" class="named">
                      <svg class="swatch" viewBox="0 0 20 20" aria-hidden="true">
                        <rect width="20" height="20" fill={swatch} />
                      </svg>
                      {partWords(part)}
                    </th>
                    <td class="figure">{l.toFixed(1)}</td>
                    <td class="figure">{a.toFixed(1)}</td>
                    <td class="figure">{b.toFixed(1)}</td>
                    <td class="figure">{u95 === null ? "only beside its neighbours" : `± ${u95.toFixed(1)}`}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </Scroll>
          {measured.grain.length > 0 && (
            <p>
              Grain:{" "}
              {measured.grain
                .map(
                  ({ part, figure, pitchMm }) =>
                    `${partWords(part)} ${grainWords[figure]}${pitchMm === null ? "" : `, about every ${Math.round(pitchMm)} mm`}`,
                )
                .join("; ")}
              .
            </p>
          )}
          <p class="quiet">
            CIELAB, daylight D65. “Sure to” is the colour difference ΔE00 within which the true colour lies with 95 %.
            Screen colours are a guide, the numbers decide.
          </p>
        </>
      )}
    </section>
  );
};
