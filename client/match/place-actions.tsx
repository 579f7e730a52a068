import { useState } from "preact/hooks";
import type { SpaceStrip } from "../../server/contract/views.ts";
import { Choice, TextField } from "../fields.tsx";
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
  const [from, choose] = useState<"opening" | "space">("opening");
  const [why, setWhy] = useState("");
  const [barring, bar] = useState(false);
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
          <button type="button" aria-expanded={barring} onClick={() => bar(!barring)}>
            <Icon name="banned" /> Keep it out
          </button>
          <a class="button" href={`/d/${props.delivery}/unwrap/${leaf}?face=${place.face}`}>
            See the leaf
          </a>
          <button type="button" onClick={props.onClose}>
            Close
          </button>
        </div>
      )}
      {barring && (
        <form
          onSubmit={(event) => {
            event.preventDefault();
            const where = from === "opening" ? opening : strip.space.name;
            props.onWish(
              keepOut(wishes, place, from, strip.space.id, why),
              `${leaf} is kept out of ${where}. Plan again to see it.`,
            );
          }}
        >
          <Choice
            label="Keep it out of"
            of={[
              ["opening", `opening ${opening}`],
              ["space", strip.space.name],
            ]}
            value={from}
            onChoose={choose}
          />
          <TextField label="Why" value={why} onInput={setWhy} />
          <button type="submit" class="main">
            Keep {leaf} out
          </button>
        </form>
      )}
    </section>
  );
};
