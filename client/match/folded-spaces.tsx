import type { ComponentChildren } from "preact";
import type { SpaceStrip } from "../../server/contract/views.ts";

/** Spaces from which one face alone is seen: nothing to match there, so they fold away. */
export const SeenAlone = (props: {
  strips: readonly SpaceStrip[];
  chosenSpace: string | null;
  onChoose: (leaf: string | null, space: string) => void;
  actions: (strip: SpaceStrip) => ComponentChildren;
}) => {
  const { strips } = props;
  if (strips.length === 0) return null;
  return (
    <section class="space" aria-labelledby="seen-alone">
      <h2 id="seen-alone">Seen alone</h2>
      <details open={strips.some(({ space }) => space.id === props.chosenSpace)}>
        <summary>{strips.length} spaces in which one face is seen and nothing is to be matched</summary>
        <ul class="rows">
          {strips.map((strip) =>
            strip.places.map((place) => (
              <li key={strip.space.id}>
                <button
                  type="button"
                  class="row alone-row"
                  disabled={place.leaf === null}
                  aria-expanded={strip.space.id === props.chosenSpace}
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
                {props.actions(strip)}
              </li>
            )),
          )}
        </ul>
      </details>
    </section>
  );
};
