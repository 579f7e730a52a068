import type { ComponentChildren } from "preact";
import type { SpaceStrip } from "../../server/contract/views.ts";

/** Spaces in which nothing stands side by side to be matched: a row a place, folded away until one of them is chosen. */
export const FoldedSpaces = (props: {
  id: string;
  title: string;
  summary: string;
  strips: readonly SpaceStrip[];
  chosenSpace: string | null;
  onChoose: (leaf: string | null, space: string) => void;
  actions: (strip: SpaceStrip) => ComponentChildren;
}) => {
  const { id, strips } = props;
  if (strips.length === 0) return null;
  return (
    <section class="folded" aria-labelledby={id}>
      <h2 id={id}>{props.title}</h2>
      <details open={strips.some(({ space }) => space.id === props.chosenSpace)}>
        <summary>{props.summary}</summary>
        <ul class="rows">
          {strips.flatMap((strip) =>
            strip.places.map((place, index) => (
              <li key={`${strip.space.id} ${index}`}>
                <button
                  type="button"
                  class="row alone-row"
                  disabled={place.leaf === null}
                  aria-expanded={place.leaf !== null && strip.space.id === props.chosenSpace}
                  onClick={() => props.onChoose(place.leaf, strip.space.id)}
                >
                  <strong>{place.leaf ? `${place.leaf} ${place.face}` : "empty"}</strong>
                  <span>
                    {strip.space.name}, opening {place.opening}
                    {place.locked && ", held"}
                    {place.turned && ", turned"}
                    {place.existing && ", stays"}
                  </span>
                </button>
                {index === strip.places.length - 1 && props.actions(strip)}
              </li>
            )),
          )}
        </ul>
      </details>
    </section>
  );
};
