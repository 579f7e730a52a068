import type { Pattern } from "../../server/contract/leaf.ts";
import type { SpaceStrip } from "../../server/contract/views.ts";
import { FaceParts } from "../drawing/leaf-drawing.tsx";
import { Scroll } from "../scroll.tsx";
import { figure, visibleWords } from "../words.ts";
import { pairInStrip } from "./plan-changes.ts";
import { wallRows } from "./walls.ts";

type Place = SpaceStrip["places"][number];

const emptyFace = { widthMm: 826, heightMm: 2040 };

/** Faces of a strip are drawn this tall where there is room, CSS px; all of one strip to one scale. */
const facePx = 180;

type Sizes = readonly { readonly widthMm: number; readonly heightMm: number }[];
type PatternOf = (leaf: string) => Pattern | undefined;

const sizesOf = (places: readonly Place[], patternOf: PatternOf): Sizes =>
  places.map(({ leaf }) => (leaf === null ? undefined : patternOf(leaf)) ?? emptyFace);

const tallestOf = (sizes: Sizes): number => Math.max(...sizes.map(({ heightMm }) => heightMm));

const widthOf = (sizes: Sizes): number => sizes.reduce((sum, { widthMm }) => sum + widthMm, 0);

/** How wide the longest wall of a strip is at the full height of its faces, CSS px. */
export const stripPx = (strip: SpaceStrip, patternOf: PatternOf): number => {
  const widths = wallRows(strip).map((row) => widthOf(sizesOf(row, patternOf)));
  return Math.round((Math.max(...widths) * facePx) / tallestOf(sizesOf(strip.places, patternOf)));
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

/** The middle of a place among all walls, each drawn to one scale from the left: shares of the width and of the height. */
const middleOf = (rows: readonly (readonly Place[])[], place: Place, patternOf: PatternOf) => {
  const row = rows.findIndex((one) => one.includes(place));
  const places = rows[row] ?? [];
  const before = sizesOf(places.slice(0, places.indexOf(place)), patternOf);
  const [own = emptyFace] = sizesOf([place], patternOf);
  const longest = Math.max(...rows.map((one) => widthOf(sizesOf(one, patternOf))));
  return { x: (widthOf(before) + own.widthMm / 2) / longest, y: (row + 0.5) / rows.length };
};

const percent = (share: number): string => `${(100 * share).toFixed(1)}%`;

/** A line between two places on different walls, with its number. */
const AcrossLine = (props: { from: { x: number; y: number }; to: { x: number; y: number }; says: string }) => {
  const { from, to, says } = props;
  const ends = { x1: percent(from.x), y1: percent(from.y), x2: percent(to.x), y2: percent(to.y) };
  return (
    <div class="across" aria-hidden="true">
      <svg aria-hidden="true">
        <line class="across-halo" {...ends} />
        <line {...ends} />
      </svg>
      <span style={{ left: percent((from.x + to.x) / 2), top: percent((from.y + to.y) / 2) }}>{says}</span>
    </div>
  );
};

const Wall = (props: {
  places: readonly Place[];
  longestMm: number;
  tallestMm: number;
  bracket: { readonly at: readonly [number, number]; readonly says: string } | null;
  patternOf: PatternOf;
  chosen: string | null;
  onChoose: (place: Place) => void;
}) => {
  const { places, patternOf, bracket, longestMm } = props;
  const sizes = sizesOf(places, patternOf);
  const columns = sizes.map(({ widthMm }) => `minmax(56px, ${widthMm}fr)`);
  const restMm = longestMm - widthOf(sizes);
  return (
    <div
      class="strip"
      style={{ gridTemplateColumns: [...columns, ...(restMm > 0 ? [`minmax(0, ${restMm}fr)`] : [])].join(" ") }}
    >
      {bracket && (
        <div class="bracket" style={{ gridColumn: `${bracket.at[0] + 1} / ${bracket.at[1] + 2}` }} aria-hidden="true">
          <span>{bracket.says}</span>
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
            tallestMm={props.tallestMm}
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
  );
};

/** The faces of a space on neutral grey, a row a wall in the order one walks past them, the worst pair joined by a line. */
export const Strip = (props: {
  strip: SpaceStrip;
  patternOf: PatternOf;
  chosen: string | null;
  onChoose: (place: Place) => void;
}) => {
  const { strip, patternOf } = props;
  const { places, worst, space } = strip;
  const rows = wallRows(strip);
  const pair = worst && pairInStrip(places, worst);
  const [one, other] = (pair ?? []).flatMap((at) => places[at] ?? []);
  const says = figure(worst?.deltaE ?? null, null);
  const longestMm = Math.max(...rows.map((row) => widthOf(sizesOf(row, patternOf))));
  const tallestMm = tallestOf(sizesOf(places, patternOf));
  const bracketOf = (row: readonly Place[]) => {
    const at = worst && pairInStrip(row, worst);
    return at && { at, says };
  };
  const across = one && other && !rows.some((row) => row.includes(one) && row.includes(other));
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
      {strip.cuts.map((cut) => (
        <p key={cut}>{cut}</p>
      ))}
      <Scroll label={`Faces seen together in ${space.name}`} class="strip-scroll">
        <div class="walls">
          {rows.map((row) => (
            <Wall
              key={row.map(({ opening }) => opening).join(" ")}
              places={row}
              longestMm={longestMm}
              tallestMm={tallestMm}
              bracket={bracketOf(row)}
              patternOf={patternOf}
              chosen={props.chosen}
              onChoose={props.onChoose}
            />
          ))}
          {across && (
            <AcrossLine from={middleOf(rows, one, patternOf)} to={middleOf(rows, other, patternOf)} says={says} />
          )}
        </div>
      </Scroll>
    </>
  );
};
