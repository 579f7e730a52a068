import type { RepeatWay } from "../../server/contract/repeat.ts";
import { Icon } from "../icon.tsx";
import { Scroll } from "../scroll.tsx";
import { partWords } from "../words.ts";
import { LimitScale } from "./limit-scale.tsx";

const wayWords: Readonly<Record<RepeatWay["way"], { readonly title: string; readonly between: string }>> = {
  "by-reference": {
    title: "Leaves in a photo each, with the card or chart",
    between: "between two faces in one photo each",
  },
  "side-by-side": { title: "Leaves side by side in one photo", between: "between two faces seen once together" },
};

const two = (value: number): string => value.toFixed(2);

/** "W01 A" of "W01/A". */
const faceWords = (face: string): string => face.replace("/", " ");

const namedFaces = (faces: readonly string[]): string => {
  const few = faces.slice(0, 4).map(faceWords).join(", ");
  return faces.length > 4 ? `${few} and ${faces.length - 4} more` : few;
};

const Result = (props: { way: RepeatWay; tolerance: number }) => {
  const { way, tolerance } = props;
  const [all] = way.spreads;
  if (way.limit === null || !all)
    return (
      <p>
        <Icon name="unknown" /> Too few repeats to go by yet: {all?.photos ?? 0} photos of{" "}
        {namedFaces(all?.faces ?? [])}.
      </p>
    );
  return (
    <>
      <p>
        Less than ΔE00 <strong>{way.limit.toFixed(1)}</strong> is no reliable difference {wayWords[way.way].between}.
      </p>
      <LimitScale limit={way.limit} tolerance={tolerance} />
      {way.limit > tolerance && (
        <p class="warn">
          <Icon name="warning" /> That is more than the {tolerance.toFixed(1)} agreed: from photos like these no match
          can be told. Better light, the card on the face, and the phone level help.
        </p>
      )}
    </>
  );
};

const Spreads = (props: { way: RepeatWay }) => {
  const { way, spreads } = props.way;
  return (
    <details>
      <summary>In figures</summary>
      <Scroll label={`Spread: ${wayWords[way].title}`}>
        <table class="plain spreads">
          <caption>Standard deviations of one photo</caption>
          <thead>
            <tr>
              <th scope="col">Parts</th>
              {["ΔE00", "95 % interval", "Limit", "L*", "a*", "b*", "Photos"].map((says) => (
                <th key={says} scope="col" class="figure">
                  {says}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {spreads.map(({ parts, deltaE, interval: [low, high], limit, lab, photos }) => (
              <tr key={parts}>
                <th scope="row">{partWords(parts)}</th>
                <td class="figure">{two(deltaE)}</td>
                <td class="figure">
                  {two(low)} – {two(high)}
                </td>
                <td class="figure">{two(limit)}</td>
                {lab.map((value, axis) => (
                  <td key={["L", "a", "b"][axis]} class="figure">
                    {two(value)}
                  </td>
                ))}
                <td class="figure">{photos}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
      <p class="quiet">
        From {spreads[0]?.photos} photos of {namedFaces(spreads[0]?.faces ?? [])}. What two photos of one face differ by
        stays below the limit in 95 of 100 cases.
      </p>
    </details>
  );
};

/** What photos of one face differ by, in each way in which two faces are compared. */
export const Ways = (props: { ways: readonly RepeatWay[]; tolerance: number }) => (
  <div class="sections">
    {props.ways.map((way) => (
      <section key={way.way} aria-labelledby={way.way}>
        <h2 id={way.way}>{wayWords[way.way].title}</h2>
        <Result way={way} tolerance={props.tolerance} />
        <Spreads way={way} />
      </section>
    ))}
  </div>
);
