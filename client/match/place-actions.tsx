import { useState } from "preact/hooks";
import type { SpaceStrip } from "../../server/contract/views.ts";
import { TextField } from "../fields.tsx";
import { Icon } from "../icon.tsx";
import { figure } from "../words.ts";
import { hold, keepOut, release, type Wishes } from "./wishes.ts";

type Place = SpaceStrip["places"][number];

/** What can be wished for one leaf: turn it, hold it here, keep it out. The next plan works round it. */
export const PlaceActions = (props: {
  delivery: string;
  place: Place;
  strip: SpaceStrip;
  wishes: Wishes;
  onWish: (wishes: Wishes, says: string) => void;
  onClose: () => void;
}) => {
  const { place, wishes, strip } = props;
  const { leaf, opening, turned } = place;
  const [why, setWhy] = useState("");
  const bar = (from: "opening" | "space", where: string) =>
    props.onWish(
      keepOut(wishes, place, from, strip.space.id, why),
      `${leaf} is kept out of ${where}. Plan again to see it.`,
    );
  return (
    <section class="plate place-actions" aria-label={`Leaf ${leaf} in opening ${opening}`}>
      <h3>
        {leaf}, face {place.face} into {strip.space.name}
      </h3>
      {place.lab && (
        <p>
          Lightness {figure(place.lab[0], null)}, red–green {figure(place.lab[1], null)}, yellow–blue{" "}
          {figure(place.lab[2], null)}
        </p>
      )}
      {place.existing ? (
        <p>It hangs there already and stays.</p>
      ) : (
        <div class="buttons">
          <button
            type="button"
            onClick={() =>
              props.onWish(hold(wishes, place, !turned), `${leaf} will be turned in ${opening}. Plan again to see it.`)
            }
          >
            <Icon name="turn" /> Turn it
          </button>
          {place.locked ? (
            <button type="button" onClick={() => props.onWish(release(wishes, place), `${leaf} is free again.`)}>
              <Icon name="held" /> Let it go
            </button>
          ) : (
            <button
              type="button"
              onClick={() => props.onWish(hold(wishes, place, turned), `${leaf} is held in ${opening}.`)}
            >
              <Icon name="held" /> Hold it here
            </button>
          )}
          <button type="button" onClick={() => bar("opening", opening)}>
            <Icon name="banned" /> Keep it out of {opening}
          </button>
          <button type="button" onClick={() => bar("space", strip.space.name)}>
            <Icon name="banned" /> Keep it out of {strip.space.name}
          </button>
          <a class="button" href={`/d/${props.delivery}/unwrap/${leaf}?face=${place.face}`}>
            See the leaf
          </a>
          <button type="button" onClick={props.onClose}>
            Close
          </button>
        </div>
      )}
      {!place.existing && <TextField label="Why it is kept out, if you like" value={why} onInput={setWhy} />}
    </section>
  );
};
