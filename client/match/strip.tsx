import type { Pattern } from "../../server/contract/leaf.ts";
import type { SpaceStrip } from "../../server/contract/views.ts";
import { FaceParts } from "../drawing/leaf-drawing.tsx";
import { Scroll } from "../scroll.tsx";
import { figure, visibleWords } from "../words.ts";
import { pairInStrip } from "./plan-changes.ts";

type Place = SpaceStrip["places"][number];

const emptyFace = { widthMm: 826, heightMm: 2040 };

/** Faces of a strip are drawn this tall where there is room, CSS px; all of one strip to one scale. */
const facePx = 180;

type Sizes = readonly { readonly widthMm: number; readonly heightMm: number }[];

const sizesOf = ({ places }: SpaceStrip, patternOf: (leaf: string) => Pattern | undefined): Sizes =>
  places.map(({ leaf }) => (leaf === null ? undefined : patternOf(leaf)) ?? emptyFace);

const tallestOf = (sizes: Sizes): number => Math.max(...sizes.map(({ heightMm }) => heightMm));

/** How wide the faces of a strip are side by side at their full height, CSS px. */
export const stripPx = (strip: SpaceStrip, patternOf: (leaf: string) => Pattern | undefined): number => {
  const sizes = sizesOf(strip, patternOf);
  const widthMm = sizes.reduce((sum, size) => sum + size.widthMm, 0);
  return Math.round((widthMm * facePx) / tallestOf(sizes));
};

const Face = (props: { place: Place; pattern: Pattern | undefined; tallestMm: number }) => {
  const { place, pattern, tallestMm } = props;
  const { widthMm, heightMm } = pattern ?? emptyFace;
  return (
    <svg class="strip-face" viewBox={`0 ${heightMm - tallestMm} ${widthMm} ${tallestMm}`} aria-hidden="true">
      {pattern && place.parts.length > 0 ? (
        <FaceParts
          pattern={pattern}
          swatches={Object.fromEntries(place.parts.map(({ part, swatch }) => [part, swatch]))}
          grain={false}
        />
      ) : (
        <rect class={place.leaf ? "unmeasured" : "no-leaf"} x={8} y={8} width={widthMm - 16} height={heightMm - 16} />
      )}
    </svg>
  );
};

const saysOf = (place: Place): string => {
  if (place.leaf === null) return `Opening ${place.opening}: no leaf`;
  const words = [
    `Opening ${place.opening}: leaf ${place.leaf}, face ${place.face}`,
    place.existing && "hangs already",
    place.turned && "turned",
    place.locked && "held here",
    place.parts.length === 0 && "colour not measured",
  ];
  return words.filter(Boolean).join(", ");
};

/** The faces of a space side by side in the order of its openings, on neutral grey, the worst pair joined by a line. */
export const Strip = (props: {
  strip: SpaceStrip;
  patternOf: (leaf: string) => Pattern | undefined;
  chosen: string | null;
  onChoose: (place: Place) => void;
}) => {
  const { strip, patternOf } = props;
  const { places, worst, space } = strip;
  const pair = worst && pairInStrip(places, worst);
  const sizes = sizesOf(strip, patternOf);
  const tallestMm = tallestOf(sizes);
  return (
    <>
      {worst && (
        <p>
          Worst pair: {worst.a.leaf} {worst.a.face} and {worst.b.leaf} {worst.b.face}
          {worst.part && worst.part !== "face" && `, ${worst.part.replaceAll("-", " ")}`}. Colour difference ΔE00{" "}
          <strong>{figure(worst.deltaE, worst.u95)}</strong>; visible side by side:{" "}
          <strong>{visibleWords[worst.verdict]}</strong>
          {worst.withinRepeats && ", no reliable difference"}.
        </p>
      )}
      {strip.cuts.map((says) => (
        <p key={says}>{says}</p>
      ))}
      <Scroll label={`Faces seen together in ${space.name}`} class="strip-scroll">
        <div
          class="strip"
          style={{ gridTemplateColumns: sizes.map(({ widthMm }) => `minmax(56px, ${widthMm}fr)`).join(" ") }}
        >
          {pair && (
            <div class="bracket" style={{ gridColumn: `${pair[0] + 1} / ${pair[1] + 2}` }} aria-hidden="true">
              <span>{figure(worst?.deltaE ?? null, null)}</span>
            </div>
          )}
          {places.map((place, index) => (
            <button
              key={`${place.opening} ${place.place}`}
              type="button"
              class="place"
              aria-label={saysOf(place)}
              aria-pressed={props.chosen !== null && props.chosen === place.leaf}
              disabled={place.leaf === null}
              style={{ gridColumn: index + 1 }}
              onClick={() => props.onChoose(place)}
            >
              <Face
                place={place}
                pattern={place.leaf === null ? undefined : patternOf(place.leaf)}
                tallestMm={tallestMm}
              />
              <span class="place-words">
                <span class="place-opening">{place.opening}</span>
                {place.leaf ? (
                  <strong>
                    {place.leaf} {place.face}
                  </strong>
                ) : (
                  <strong>empty</strong>
                )}
                {place.locked && <span>held</span>}
                {place.turned && <span>turned</span>}
                {place.existing && <span>stays</span>}
              </span>
            </button>
          ))}
        </div>
      </Scroll>
    </>
  );
};
